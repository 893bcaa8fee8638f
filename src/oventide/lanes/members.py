"""What laws and kernels write in place of `if`, and the functions that a law may call, for members side by side."""

import math
import operator
from typing import Any

import numpy as np
from llvmlite import ir
from numba.core import cgutils, types
from numba.core.imputils import impl_ret_borrowed
from numba.extending import intrinsic, overload
from numba.np.arrayobj import make_array, populate_array
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.lanes.number import LANES, LANES_KIND, MASK_KIND, NUMBERS, WHOLES, LaneMask, Lanes, numeric

# --- choices ------------------------------------------------------------------------------------------------------


def choose(condition: bool, this: float, other: float) -> float:
    """`this` where the condition holds, else `other`, member by member. Both are reckoned.

    >>> choose(True, 1.0, 2.0)
    1.0
    """
    return this if condition else other


def any_of(condition: bool) -> bool:
    """Whether it holds for any of the members side by side."""
    return condition


def all_of(condition: bool) -> bool:
    """Whether it holds for all of the members side by side."""
    return condition


def opposite(condition: bool) -> bool:
    """Where it does not hold, member by member."""
    return not condition


def greatest(value: float) -> float:
    """The greatest among the members side by side."""
    return value


@intrinsic
def _select(typing: Any, mask: Any, this: Any, other: Any) -> Any:
    return LANES_KIND(MASK_KIND, LANES_KIND, LANES_KIND), lambda context, builder, sig, args: builder.select(*args)


def _count(sign: str, wanted: int) -> Any:
    @intrinsic
    def asked(typing: Any, mask: Any) -> Any:
        def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
            bits = builder.bitcast(args[0], ir.IntType(LANES))
            return builder.icmp_unsigned(sign, bits, ir.Constant(ir.IntType(LANES), wanted))

        return types.boolean(MASK_KIND), build

    return asked


_any, _all = _count("!=", 0), _count("==", 2**LANES - 1)


@intrinsic
def _not(typing: Any, mask: Any) -> Any:
    return MASK_KIND(MASK_KIND), lambda context, builder, sig, args: builder.not_(args[0])


@intrinsic
def _greatest(typing: Any, value: Any) -> Any:
    def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        found = builder.extract_element(args[0], ir.Constant(ir.IntType(32), 0))
        for lane in range(1, LANES):
            here = builder.extract_element(args[0], ir.Constant(ir.IntType(32), lane))
            found = builder.select(builder.fcmp_ordered(">", found, here), found, here)
        return found

    return types.float64(LANES_KIND), build


@overload(choose, strict=False)
def _choose(condition: Any, this: Any, other: Any) -> Any:
    if isinstance(condition, LaneMask):
        return lambda condition, this, other: _select(condition, this, other)
    return lambda condition, this, other: this if condition else other


@overload(any_of, strict=False)
def _any_of(condition: Any) -> Any:
    return (lambda condition: _any(condition)) if isinstance(condition, LaneMask) else (lambda condition: condition)


@overload(all_of, strict=False)
def _all_of(condition: Any) -> Any:
    return (lambda condition: _all(condition)) if isinstance(condition, LaneMask) else (lambda condition: condition)


@overload(opposite, strict=False)
def _opposite(condition: Any) -> Any:
    return (lambda condition: _not(condition)) if isinstance(condition, LaneMask) else (lambda condition: not condition)


@overload(greatest, strict=False)
def _greatest_of(value: Any) -> Any:
    return (lambda value: _greatest(value)) if isinstance(value, Lanes) else (lambda value: value)


@overload(float, strict=False)
def _float(value: Any) -> Any:
    return (lambda value: value) if isinstance(value, Lanes) else None


# --- functions ----------------------------------------------------------------------------------------------------


def _sharper(sign: str) -> Any:
    @intrinsic
    def picked(typing: Any, a: Any, b: Any) -> Any:
        def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
            return builder.select(builder.fcmp_ordered(sign, *args), *args)

        return LANES_KIND(LANES_KIND, LANES_KIND), build

    return picked


def _of_processor(name: str) -> Any:
    @intrinsic
    def called(typing: Any, value: Any) -> Any:
        def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
            kind = ir.FunctionType(NUMBERS, [NUMBERS])
            function = cgutils.get_or_insert_function(builder.module, kind, f"llvm.{name}.v{LANES}f64")
            return builder.call(function, args)

        return LANES_KIND(LANES_KIND), build

    return called


_lesser, _larger = _sharper("<"), _sharper(">")
_root, _magnitude, _below = (_of_processor(name) for name in ("sqrt", "fabs", "floor"))


@overload(min, strict=False)
def _min(a: Any, b: Any) -> Any:
    return (lambda a, b: _lesser(a, b)) if numeric(a, b) else None


@overload(max, strict=False)
def _max(a: Any, b: Any) -> Any:
    return (lambda a, b: _larger(a, b)) if numeric(a, b) else None


@overload(abs, strict=False)
def _abs(value: Any) -> Any:
    return (lambda value: _magnitude(value)) if isinstance(value, Lanes) else None


@overload(math.floor, strict=False)
def _floor(value: Any) -> Any:
    return (lambda value: _below(value)) if isinstance(value, Lanes) else None


@overload(math.sqrt, strict=False)
def _sqrt(value: Any) -> Any:
    return (lambda value: _root(value)) if isinstance(value, Lanes) else None


def _wholes(value: int) -> Any:
    return ir.Constant(WHOLES, [value] * LANES)


_SHIFT = 1.5 * 2.0**52
"""Added to a small number it leaves the nearest whole number in the lowest bits."""
_ONE, _FRACTION = 0x3FF0000000000000, 0x000FFFFFFFFFFFFF
_ROOT_HALF = 0x3FE6A09E667F3BCD


@intrinsic
def _two_to(typing: Any, shifted: Any) -> Any:
    """2^k, where k + _SHIFT is given."""

    def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        exponent = builder.shl(builder.bitcast(args[0], WHOLES), _wholes(52))
        return builder.bitcast(builder.add(exponent, _wholes(_ONE)), NUMBERS)

    return LANES_KIND(LANES_KIND), build


@intrinsic
def _significand(typing: Any, value: Any) -> Any:
    """m of value = m 2^k, with m from √½ to √2."""

    def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        moved = builder.add(builder.bitcast(args[0], WHOLES), _wholes(_ONE - _ROOT_HALF))
        bits = builder.add(builder.and_(moved, _wholes(_FRACTION)), _wholes(_ROOT_HALF))
        return builder.bitcast(bits, NUMBERS)

    return LANES_KIND(LANES_KIND), build


@intrinsic
def _exponent(typing: Any, value: Any) -> Any:
    """k of value = m 2^k."""

    def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        moved = builder.add(builder.bitcast(args[0], WHOLES), _wholes(_ONE - _ROOT_HALF))
        bits = builder.or_(builder.lshr(moved, _wholes(52)), _wholes(0x4330000000000000))
        return builder.fsub(builder.bitcast(bits, NUMBERS), ir.Constant(NUMBERS, [2.0**52 + 1023.0] * LANES))

    return LANES_KIND(LANES_KIND), build


@compiled
def _exp_of(x: Any) -> Any:
    """e^x = 2^k e^r, |r| ≤ ½ ln 2, e^r by its series to r⁹ (relative error 7e-12). Beyond ±700 the end's value."""
    held = min(700.0, max(-700.0, x))
    shifted = held * 1.4426950408889634 + _SHIFT
    k = shifted - _SHIFT
    r = held - k * 6.93147180369123816490e-01 - k * 1.90821492927058770002e-10
    series = 1.0 / 362880.0
    series = series * r + 1.0 / 40320.0
    series = series * r + 1.0 / 5040.0
    series = series * r + 1.0 / 720.0
    series = series * r + 1.0 / 120.0
    series = series * r + 1.0 / 24.0
    series = series * r + 1.0 / 6.0
    series = series * r + 0.5
    series = series * r + 1.0
    series = series * r + 1.0
    return series * _two_to(shifted)


@compiled
def _log_of(x: Any) -> Any:
    """ln x = k ln 2 + 2 artanh((m - 1)/(m + 1)), by its series to the 13th power (error 4e-13). x > 0."""
    m = _significand(x)
    s = (m - 1.0) / (m + 1.0)
    z = s * s
    series = 2.0 / 13.0
    series = series * z + 2.0 / 11.0
    series = series * z + 2.0 / 9.0
    series = series * z + 2.0 / 7.0
    series = series * z + 2.0 / 5.0
    series = series * z + 2.0 / 3.0
    series = series * z + 2.0
    return _exponent(x) * 0.6931471805599453 + s * series


@overload(math.exp, strict=False)
def _exp(value: Any) -> Any:
    return (lambda value: _exp_of(value)) if isinstance(value, Lanes) else None


@overload(math.log, strict=False)
def _log(value: Any) -> Any:
    return (lambda value: _log_of(value)) if isinstance(value, Lanes) else None


@overload(math.log1p, strict=False)
def _log1p(value: Any) -> Any:
    """Of 1 + value: good to 1e-13 of 1, not of a tiny value."""
    return (lambda value: _log_of(1.0 + value)) if isinstance(value, Lanes) else None


@overload(operator.pow, strict=False)
@overload(math.pow, strict=False)
def _pow(base: Any, power: Any) -> Any:
    """By exp and log; of nothing (or less) it is nothing. A whole power is a product."""
    if not numeric(base, power):
        return None
    if isinstance(power, types.Integer):

        def product(base: Any, power: Any) -> Any:
            found = base
            for _ in range(power - 1):
                found = found * base
            return found

        return product
    if isinstance(base, Lanes):
        return lambda base, power: choose(base > 0.0, _exp_of(power * _log_of(max(base, 1e-300))), 0.0)
    return lambda base, power: _exp_of(power * math.log(base))


@overload(math.isfinite, strict=False)
def _isfinite(value: Any) -> Any:
    return (lambda value: abs(value) < math.inf) if isinstance(value, Lanes) else None


# --- arrays -------------------------------------------------------------------------------------------------------


def side_by_side(figures: NDArray[np.float64]) -> NDArray[np.float64]:
    """An array (..., LANES) as an array (...) of members side by side, on the same memory. In compiled code only."""
    raise TypeError("members stand side by side in compiled code only")


@intrinsic
def _viewed(typing: Any, figures: Any) -> Any:
    shown = types.Array(LANES_KIND, figures.ndim - 1, "C", aligned=False)

    def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        source, view = make_array(sig.args[0])(context, builder, args[0]), make_array(shown)(context, builder)
        populate_array(
            view,
            data=builder.bitcast(source.data, view.data.type),
            shape=cgutils.unpack_tuple(builder, source.shape)[:-1],
            strides=cgutils.unpack_tuple(builder, source.strides)[:-1],
            itemsize=context.get_constant(types.intp, 8 * LANES),
            meminfo=source.meminfo,
            parent=source.parent,
        )
        return impl_ret_borrowed(context, builder, shown, view._getvalue())

    return shown(figures), build


@overload(side_by_side, strict=False)
def _side_by_side(figures: Any) -> Any:
    if isinstance(figures, types.Array) and figures.layout == "C" and figures.dtype == types.float64:
        return lambda figures: _viewed(figures)
    return None


def row_of(table: NDArray[np.float64], row: float) -> float:
    """The figure in a row of a table (rows,), each member from its own table and its own row.

    >>> float(row_of(np.array([2.0, 3.0]), 1.0))
    3.0
    """
    return float(table[int(row)])


@intrinsic
def _gathered(typing: Any, table: Any, row: Any) -> Any:
    def build(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        array = make_array(sig.args[0])(context, builder, args[0])
        start = builder.ptrtoint(array.data, ir.IntType(64))
        stride = builder.extract_value(array.strides, 0)
        found = ir.Constant(NUMBERS, ir.Undefined)
        for lane in range(LANES):
            place = ir.Constant(ir.IntType(32), lane)
            whole = builder.fptosi(builder.extract_element(args[1], place), ir.IntType(64))
            offset = builder.add(builder.mul(whole, stride), ir.Constant(ir.IntType(64), 8 * lane))
            pointer = builder.inttoptr(builder.add(start, offset), ir.PointerType(ir.DoubleType()))
            found = builder.insert_element(found, builder.load(pointer), place)
        return found

    return LANES_KIND(table, LANES_KIND), build


@overload(row_of, strict=False)
def _row_of(table: Any, row: Any) -> Any:
    if isinstance(row, Lanes):
        return lambda table, row: _gathered(table, row)
    return lambda table, row: table[int(row)]
