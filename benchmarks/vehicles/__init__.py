"""Real launchers flown with this program: figures, vehicles, missions, bands, tables."""
