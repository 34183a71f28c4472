"""The room for the service on the ship's network; nothing is built here yet, and nothing else depends on it."""
