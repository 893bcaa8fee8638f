"""The kernels come to the solutions on paper as fast as their schemes promise."""

import numpy as np
import pytest

from validation import numerics, printed
from validation.order import STUDIES, Study, cylinder_mean, slab_mean


@pytest.mark.parametrize("study", STUDIES, ids=[study.__name__ for study in STUDIES])
def test_the_order_is_that_of_the_scheme(study) -> None:
    done: Study = study()
    assert all(fine < coarse for coarse, fine in zip(done.errors, done.errors[1:], strict=False))
    assert done.order >= done.wanted


@pytest.mark.parametrize("mean", [slab_mean, cylinder_mean])
def test_the_series_begin_at_one_and_end_at_nothing(mean) -> None:
    """A check of the references themselves; a thin body with a weak film cools as one lump, θ = exp(-Bi Fo · S)."""
    assert mean(1.0, 0.0) == pytest.approx(1.0, abs=2e-3)
    assert mean(1.0, 50.0) < 1e-6
    surface = 1.0 if mean is slab_mean else 2.0
    assert mean(1e-3, 200.0) == pytest.approx(np.exp(-1e-3 * 200.0 * surface), rel=1e-3)


def test_the_page_of_numerics_says_what_a_run_says(root) -> None:
    committed = (root / "docs" / "validation" / numerics.PAGE).read_text("utf-8").splitlines()
    for line in numerics.order_lines():
        assert any(printed.alike(line, other) for other in committed), f"run `make validate`: {line}"
