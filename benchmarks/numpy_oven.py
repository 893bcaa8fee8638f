"""The oven's step a second time in plain NumPy, vectorised over members, to learn what numba earns.

Same equations, same Newton, same block-tridiagonal elimination; arrays run over the members, Python over cells and
steps of one common length. Run: python benchmarks/numpy_oven.py
"""

import time

import numpy as np
from bench_oven import SHARES
from numpy.typing import NDArray

from oventide.evidence.parameters import draw, load
from oventide.matter.properties import porous_conductivity_w_mk
from oventide.timeline import oven_parameters as at
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import advance_oven, oven_parameters, oven_stage, start_oven

Array = NDArray[np.float64]
_V = load("matter").value
A, B, C = _V("water.antoine_a"), _V("water.antoine_b"), _V("water.antoine_c")
H0, CV, CW = _V("water.vapour_enthalpy_0c"), _V("water.vapour_heat_capacity"), _V("water.liquid_heat_capacity")


def vapour(T: Array, W: Array, par: Array) -> tuple[Array, Array, Array]:
    n = par[:, at.SORB_N, None]
    a = 1 / (1 + np.exp(-(np.log(W / par[:, at.SORB_HALF, None]) + par[:, at.SORB_SHIFT, None] * (T - 25)) / n))
    p = np.exp(A - B / (T + C))
    return a * p, p * (a * B / (T + C) ** 2 + a * (1 - a) * par[:, at.SORB_SHIFT, None] / n), p * a * (1 - a) / n / W


def step(T: Array, W: Array, gas: Array, mass: Array, air: float, dt: float, par: Array, box: Array) -> None:
    """Open top, tin below; no fat. Advances T and W (M, n) in place."""
    P, first = par[:, at.PRESSURE, None], par[:, at.FIRST_WATER, None]
    column = lambda i: par[:, i, None]  # noqa: E731
    sigmoid = lambda x: 1 / (1 + np.exp(-np.clip(x, -40, 40)))  # noqa: E731
    p, p_t, _ = vapour(T, W, par)
    dry = sigmoid((0.35 * first - W) / (0.03 * first))
    dense = column(at.DRY_VOLUME) + 1e-3 * W
    whole = column(at.DRY_VOLUME) + 1e-3 * first + gas
    volume = np.maximum(1.05 * dense, (1 - dry) * (dense + gas) + dry * column(at.CRUST_RATIO) * whole)
    eps = 1 - dense / volume
    go = column(at.GO_SHARE) + (1 - column(at.GO_SHARE)) * np.maximum(dry, sigmoid((p / P - 0.93) / 0.01))
    K = T + 273.15
    g = eps * (column(at.OPEN_CRUMB) * (1 - dry) + column(at.OPEN_CRUST) * dry)
    g = g * 2.2e-5 * 101325 / P * (K / 273.15) ** 1.81 * 0.01801528 / (8.314462618 * K)
    g = g / np.maximum(0.03, 0.08 * np.logaddexp(0, (1 - p / P) / 0.08))
    steam = g * (H0 + (CV - CW) * T) * p_t
    steam = steam * column(at.K_CEILING) / (steam + column(at.K_CEILING))
    ks = column(at.K_DRY) + (column(at.K_WET) - column(at.K_DRY)) * np.minimum(1, W / first)
    pore = 0.026 + 6e-5 * T + 4 * 5.670374419e-8 * K**3 * column(at.PORE)
    k = porous_conductivity_w_mk.py_func(ks, pore, eps) * (1 + (column(at.CRUST_K) - 1) * dry)  # type: ignore[attr-defined]
    k = k + (1 - go) * steam
    d = column(at.LIQUID_D) * K / 298.15 * 10 ** (247.8 / 158.15 - 247.8 / (K - 140)) * np.minimum(1, W / first) ** 2
    dx = mass * volume
    face = lambda c: 1 / (0.5 * dx[:, :-1] / c[:, :-1] + 0.5 * dx[:, 1:] / c[:, 1:])  # noqa: E731
    fk, fg, fd = face(k), face(go * g), face(d / volume)
    fs = column(at.DARCY) / (0.5 * (dx[:, :-1] + dx[:, 1:]))
    wall, skin = air + 273.15, K[:, -1]
    radiation = box[:, at.S_EMISSIVITY] * 5.670374419e-8 * (wall**2 + skin**2) * (wall + skin)
    u_top = 1 / (1 / (box[:, at.S_FILM] * box[:, at.S_DOME] + radiation) + 0.5 * dx[:, -1] / k[:, -1])
    u_base = 1 / (1 / box[:, at.S_TIN] + box[:, at.S_CONTACT] + 0.5 * dx[:, 0] / k[:, 0])
    out = 1 / (1 / (box[:, at.S_MASS_TOP] * box[:, at.S_DOME]) + 0.5 * dx[:, -1] / (go * g)[:, -1])
    heat = column(at.DRY_HEAT)
    E0, W0 = (heat + CW * W) * T, W.copy()
    n = T.shape[1]
    for _ in range(12):
        p, p_t, p_w = vapour(T, W, par)
        s = np.clip((p - P) / 400.0, -40, 40)
        x, x_p = 400.0 * np.log1p(np.exp(s)), sigmoid(s)
        hv, hl = H0 + CV * 0.5 * (T[:, :-1] + T[:, 1:]), CW * 0.5 * (T[:, :-1] + T[:, 1:])
        v = fg * (p[:, :-1] - p[:, 1:]) + fs * (x[:, :-1] - x[:, 1:])
        liquid = fd * (W[:, :-1] - W[:, 1:])
        lo, hi = fg + fs * x_p[:, :-1], fg + fs * x_p[:, 1:]
        zero = np.zeros((T.shape[0], 1))
        ht = (H0 + CV * T[:, -1])[:, None]
        jt = (out * (p[:, -1] - box[:, at.S_VAPOUR]) + box[:, at.S_VENT] * x[:, -1])[:, None]
        st = (out + box[:, at.S_VENT] * x_p[:, -1])[:, None]
        cat = lambda *parts: np.concatenate(parts, axis=1)  # noqa: E731
        j = cat(zero, v + liquid, jt)
        q = cat(
            (u_base * (air - T[:, 0]))[:, None], fk * (T[:, :-1] - T[:, 1:]) + v * hv + liquid * hl,
            -(u_top * (air - T[:, -1]))[:, None] + jt * ht,
        )  # fmt: skip
        ju_t, ju_w = cat(lo * p_t[:, :-1], st * p_t[:, -1:]), cat(lo * p_w[:, :-1] + fd, st * p_w[:, -1:])
        qu_t = cat(fk + lo * p_t[:, :-1] * hv, u_top[:, None] + st * p_t[:, -1:] * ht)
        qu_w = cat(lo * p_w[:, :-1] * hv + fd * hl, st * p_w[:, -1:] * ht)
        jn_t, jn_w = -hi * p_t[:, 1:], -hi * p_w[:, 1:] - fd
        qn_t, qn_w = -fk - hi * p_t[:, 1:] * hv, -hi * p_w[:, 1:] * hv - fd * hl
        rate = mass / dt
        r1 = -(rate * ((heat + CW * W) * T - E0) + q[:, 1:] - q[:, :-1])
        r2 = -(rate * (W - W0) + j[:, 1:] - j[:, :-1])
        b11, b12, b21, b22 = rate * (heat + CW * W) + qu_t, rate * CW * T + qu_w, ju_t, rate + ju_w
        b11[:, 1:] -= qn_t
        b12[:, 1:] -= qn_w
        b21[:, 1:] -= jn_t
        b22[:, 1:] -= jn_w
        b11[:, 0] += u_base
        R = np.stack([r1, r2], axis=-1)
        M = np.stack([np.stack([b11, b12], -1), np.stack([b21, b22], -1)], -2)
        low = -np.stack([np.stack([qu_t, qu_w], -1), np.stack([ju_t, ju_w], -1)], -2)
        up = np.stack([np.stack([qn_t, qn_w], -1), np.stack([jn_t, jn_w], -1)], -2)
        c, y = [], []
        for i in range(n):
            Mi, Ri = M[:, i], R[:, i]
            if i > 0:
                Mi = Mi - low[:, i - 1] @ c[-1]
                Ri = Ri - (low[:, i - 1] @ y[-1][..., None])[..., 0]
            y.append(np.linalg.solve(Mi, Ri[..., None])[..., 0])
            if i < n - 1:
                c.append(np.linalg.solve(Mi, up[:, i]))
        du = y[-1]
        worst = np.zeros(2)
        for i in range(n - 1, -1, -1):
            if i < n - 1:
                du = y[i] - (c[i] @ du[..., None])[..., 0]
            T[:, i] += np.clip(du[:, 0], -15, 15)
            W[:, i] = np.maximum(1e-4, W[:, i] + np.maximum(-0.7 * W[:, i], du[:, 1]))
            worst = np.maximum(worst, np.abs(du).max(axis=0))
        if worst[0] < 0.03 and worst[1] < 1e-4:
            return


def compare(members: int = 64, seconds: float = 300.0, dt: float = 5.0) -> None:
    """Print both times for the same members, and how far the two ends are apart."""
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], members, seed=1)
    gas = np.full(members, 0.60)
    start = np.full((members, 24), 28.0)
    par = oven_parameters(SHARES, draws, start[:, 0], gas)
    par[:, [at.FAT, at.RETAINED]] = 0.0
    state = start_oven(start, SHARES, gas, np.full(members, 19.1), graded_faces(24))
    stage = oven_stage(
        "convection", "light_metal", False, np.array([0.0]), np.array([170.0]), np.array([0.0, seconds]),
        np.array([seconds]), draws, longest_step_s=dt,
    )  # fmt: skip
    stage.conductances[:, at.S_TIN_HEAT] = 0.0  # nor a tin with mass
    stage.conductances[:, at.S_WALL_STEP] = 0.0  # the NumPy step has walls at air temperature
    advance_oven(state, stage, par)
    begin, cpu = time.perf_counter(), time.process_time()
    run = advance_oven(state, stage, par)
    compiled, compiled_cpu = time.perf_counter() - begin, time.process_time() - cpu
    T, W = state.temperature_c.copy(), state.water.copy()
    mass = state.dry_mass_kg_m2[:, None] * np.diff(state.faces)[None, :]
    begin, cpu = time.perf_counter(), time.process_time()
    for size in [0.2, 0.32, 0.512, 0.82, 1.3, 1.848] + [dt] * int((seconds - 5.0) / dt):
        step(T, W, state.gas_volume, mass, 170.0, size, par, stage.conductances)
    plain, plain_cpu = time.perf_counter() - begin, time.process_time() - cpu
    apart = np.abs(T - run.end.temperature_c).max()
    print(f"numba {compiled:.4f} s wall {compiled_cpu:.4f} s cpu, numpy {plain:.3f} s wall {plain_cpu:.3f} s cpu")
    print(f"ratio of cpu {plain_cpu / compiled_cpu:.0f}, largest difference {apart:.2f} °C")


if __name__ == "__main__":
    compare()
