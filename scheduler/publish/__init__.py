"""What leaves the ship's planner for people to read; it computes nothing that decides."""
