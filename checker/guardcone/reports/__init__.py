"""The reports: findings and forecasts drawn for people, and for other programs."""
