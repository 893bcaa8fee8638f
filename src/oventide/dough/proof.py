"""What a rise means: how far the dough is, in words, and what the proof aims at.

The rise itself is simulated (dough/fermentation.py, dough/gas.py, timeline/hold.py); here it is only read. Rise is
volume over a stated start: freshly mixed for bulk, just shaped for the final proof.
"""

from dataclasses import dataclass
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load

Rise = TypeVar("Rise", float, NDArray[np.float64])
_DOUGH = load("dough")
ProofState = Literal["young", "nearly there", "ready", "past it", "over-proofed"]


@dataclass(frozen=True)
class ProofTarget:
    """Rise over just-shaped at which rolled pieces in a tin go to the oven, and the core they should have."""

    low: float
    likely: float
    high: float
    core_least_c: float


def shaped_target() -> ProofTarget:
    """The default target for rolled, enriched pieces in a tin; oven spring finishes the rise.

    >>> shaped_target().low, shaped_target().likely, shaped_target().high
    (1.4, 1.5, 1.6)
    """
    low, high = _DOUGH.value("proof.shaped_low"), _DOUGH.value("proof.shaped_high")
    return ProofTarget(low, 0.5 * (low + high), high, _DOUGH.value("proof.core_least"))


def rise_over_shaped(rise: Rise, rise_when_shaped: Rise) -> Rise:
    """Rise over just-shaped from two rises over freshly mixed.

    >>> rise_over_shaped(2.25, 1.5)
    1.5
    """
    return rise / rise_when_shaped


def proof_state(rise_shaped: float, over_proof: float, target: ProofTarget | None = None) -> ProofState:
    """A word for how far the proof is.

    `rise_shaped` over just-shaped; `over_proof` the kernel's measure: relative volume less the critical one.

    >>> proof_state(1.2, -1.0), proof_state(1.5, -0.8), proof_state(2.2, 0.1)
    ('young', 'ready', 'over-proofed')
    """
    aim = target or shaped_target()
    if over_proof > 0.0:
        return "over-proofed"
    if rise_shaped > aim.high:
        return "past it"
    if rise_shaped >= aim.low:
        return "ready"
    # the last third of the way to the target
    return "nearly there" if rise_shaped >= 1.0 + 2.0 / 3.0 * (aim.low - 1.0) else "young"
