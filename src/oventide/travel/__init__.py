"""What changes when a bake travels: other eggs, yeast, flour, dairy, tin or oven, and what to do about it."""
