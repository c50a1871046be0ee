"""A plan is begun: from what a person knows, or from an older plan."""
