"""Oventide makes a bake travel: formula, tin, kitchen and clock in one physical forecast.

The root loads nothing heavy and re-exports nothing: import the room you need.
"""

__version__ = "0.1.0"
