"""What a study file asks."""
