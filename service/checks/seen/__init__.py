"""What was seen, heard and reported."""
