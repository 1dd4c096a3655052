"""What the repair procedures are asked and what they compute."""
