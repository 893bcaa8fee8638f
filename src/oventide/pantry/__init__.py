"""Ingredients: what they are called, what they are made of, what a cup or a piece of them weighs."""
