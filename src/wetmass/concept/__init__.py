"""What the user states: units, models, YAML with positions, open values, requirements."""
