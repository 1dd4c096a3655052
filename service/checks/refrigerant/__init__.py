"""The refrigerant side: gauges, charge, compressor, standing pressure, start-up."""
