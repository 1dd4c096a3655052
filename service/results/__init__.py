"""What travels inside the service, frozen; nothing here imports any other room."""
