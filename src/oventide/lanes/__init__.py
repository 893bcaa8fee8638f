"""Members side by side: a number of the compiler that holds one figure of LANES members at once.

A law written with `choose` in place of `if` is compiled twice from the same lines: for a plain number, and for LANES
members whose figures fill the processor's wide registers. `side_by_side` shows an array whose last axis is the members
as an array of such numbers; arithmetic, comparison, min, max, abs and math.exp, log, log1p, sqrt and pow work on
them. exp and log are polynomials here, because no compiled library has them for several members (relative error
below 1e-10; tests).
"""
