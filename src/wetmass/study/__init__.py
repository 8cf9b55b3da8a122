"""Many closings or flights: what if, what matters, how sure."""
