"""The electrical bench: isolation, windings, insulation, capacitors, control, supply, motors."""
