"""The number itself: what the compiler knows of LANES members side by side, and how it adds and compares them."""

import operator
from collections.abc import Callable
from typing import Any

from llvmlite import ir
from numba.core import types
from numba.core.typeconv.castgraph import Conversion
from numba.core.typing.templates import AbstractTemplate, infer_global, signature
from numba.extending import lower_builtin, lower_cast, models, register_model

LANES = 4
"""Members side by side: four numbers fill a register of 256 bits."""

_NUMBER, _WHOLE, _BIT = ir.DoubleType(), ir.IntType(64), ir.IntType(1)
NUMBERS, WHOLES, _BITS = (ir.VectorType(kind, LANES) for kind in (_NUMBER, _WHOLE, _BIT))
_FREE = ("contract", "nsz", "arcp")
"""The compiler may join a product with a sum, take 0 for -0 and divide by a reciprocal; nan and inf stay."""


class Lanes(types.Type):
    """The compiler's name for LANES numbers."""

    def __init__(self) -> None:
        super().__init__(name=f"Lanes{LANES}")

    def can_convert_from(self, typingctx: Any, other: Any) -> Any:
        return Conversion.safe if isinstance(other, types.Float | types.Integer) else None

    def unify(self, typingctx: Any, other: Any) -> Any:
        return self if isinstance(other, types.Float | types.Integer) else None


class LaneMask(types.Type):
    """The compiler's name for LANES answers, yes or no."""

    def __init__(self) -> None:
        super().__init__(name=f"LaneMask{LANES}")

    def can_convert_from(self, typingctx: Any, other: Any) -> Any:
        return Conversion.safe if isinstance(other, types.Boolean) else None

    def unify(self, typingctx: Any, other: Any) -> Any:
        return self if isinstance(other, types.Boolean) else None


LANES_KIND, MASK_KIND = Lanes(), LaneMask()


@register_model(Lanes)
class _LanesModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, NUMBERS)


@register_model(LaneMask)
class _MaskModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, _BITS)


# --- numbers among lanes ------------------------------------------------------------------------------------------


def _in_every_lane(builder: Any, value: Any, kind: Any) -> Any:
    vector = ir.VectorType(kind, LANES)
    first = builder.insert_element(ir.Constant(vector, ir.Undefined), value, ir.Constant(ir.IntType(32), 0))
    places = ir.Constant(ir.VectorType(ir.IntType(32), LANES), [0] * LANES)
    return builder.shuffle_vector(first, ir.Constant(vector, ir.Undefined), places)


@lower_cast(types.Float, Lanes)
@lower_cast(types.Integer, Lanes)
def _number_to_lanes(context: Any, builder: Any, source: Any, target: Any, value: Any) -> Any:
    return _in_every_lane(builder, context.cast(builder, value, source, types.float64), _NUMBER)


@lower_cast(types.Boolean, LaneMask)
def _answer_to_mask(context: Any, builder: Any, source: Any, target: Any, value: Any) -> Any:
    bit = value if value.type == _BIT else builder.trunc(value, _BIT)
    return _in_every_lane(builder, bit, _BIT)


def _has(kind: type, others: tuple[type, ...], arguments: tuple[Any, ...]) -> bool:
    return any(isinstance(each, kind) for each in arguments) and all(
        isinstance(each, (kind, *others)) for each in arguments
    )


def numeric(*arguments: Any) -> bool:
    """Whether lanes are among the arguments, and nothing but numbers beside them."""
    return _has(Lanes, (types.Float, types.Integer), arguments)


def _define(
    what: Any, result: Any, kind: type, others: tuple[type, ...], count: int, build: Callable[..., Any]
) -> None:
    """Let the compiler know an operator among lanes: when it applies, what it gives, and how it is made."""
    one = LANES_KIND if kind is Lanes else MASK_KIND

    class Typed(AbstractTemplate):
        def generic(self, args: Any, kws: Any) -> Any:
            if len(args) == count and _has(kind, others, args):
                return signature(result, *([one] * count))
            return None

    Typed.__name__ = f"Typed_{what.__name__}_{kind.__name__}"
    infer_global(what)(Typed)
    lower_builtin(what, *([kind] * count))(lambda context, builder, sig, args: build(builder, *args))


def _arithmetic(method: str) -> Callable[..., Any]:
    return lambda builder, a, b: getattr(builder, method)(a, b, flags=_FREE)


def _comparison(sign: str) -> Callable[..., Any]:
    return lambda builder, a, b: builder.fcmp_ordered(sign, a, b)


_PLAIN = (types.Float, types.Integer)
for _name, _method in (("add", "fadd"), ("sub", "fsub"), ("mul", "fmul"), ("truediv", "fdiv")):
    for _operator in (getattr(operator, _name), getattr(operator, f"i{_name}")):
        _define(_operator, LANES_KIND, Lanes, _PLAIN, 2, _arithmetic(_method))
for _operator, _sign in (
    (operator.lt, "<"),
    (operator.le, "<="),
    (operator.gt, ">"),
    (operator.ge, ">="),
    (operator.eq, "=="),
):
    _define(_operator, MASK_KIND, Lanes, _PLAIN, 2, _comparison(_sign))
_define(
    operator.neg, LANES_KIND, Lanes, (), 1, lambda builder, a: builder.fsub(ir.Constant(NUMBERS, [-0.0] * LANES), a)
)
_define(operator.and_, MASK_KIND, LaneMask, (types.Boolean,), 2, lambda builder, a, b: builder.and_(a, b))
_define(operator.or_, MASK_KIND, LaneMask, (types.Boolean,), 2, lambda builder, a, b: builder.or_(a, b))
