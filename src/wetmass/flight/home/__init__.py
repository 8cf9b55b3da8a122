"""The way home of each stage that is let go."""
