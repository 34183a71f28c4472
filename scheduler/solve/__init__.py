"""From restrictions to times and names: the only room that knows the solver."""
