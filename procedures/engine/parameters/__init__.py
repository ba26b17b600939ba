"""What a step is told: declared parameters, and how they are read and stored."""
