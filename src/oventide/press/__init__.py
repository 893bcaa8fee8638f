"""Paper: bench sheets and rulers as PDF, by typst."""
