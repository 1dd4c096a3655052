"""What serving needs of the cycle model: its readings, their order, its reference surfaces and moist air."""
