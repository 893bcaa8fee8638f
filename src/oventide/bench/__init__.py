"""The bake as it goes: what was noted at the bench, what that makes of the day, and what is to be done now."""
