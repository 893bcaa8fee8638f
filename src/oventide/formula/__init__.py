"""Components and lines, baker's percentages, scaling, composition and balance."""
