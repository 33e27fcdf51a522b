"""The one door between plain physics functions and the compiler.

Functions marked `scalar` stay ordinary Python functions; compiled code may call them too, in
whatever precision their arguments have. So that float32 stays float32 there, they take their
constants as arguments and use `exp` and `sqrt` from here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, TypeVar

import numpy as np
from llvmlite import ir
from numba import types
from numba.extending import intrinsic, overload, register_jitable

Function = TypeVar("Function", bound=Callable[..., Any])


def scalar(function: Function) -> Function:
    """Let compiled code call a plain function, always inlined so that loops vectorise."""
    registered: Function = register_jitable(forceinline=True, fastmath=True)(function)
    return registered


def sqrt(value: float) -> float:
    """Square root; in compiled code one instruction in the precision of the argument."""
    return math.sqrt(value)


def inverse_sqrt(value: float) -> float:
    """1 / square root, in the precision of the argument."""
    return 1.0 / math.sqrt(value)


def exp_negative(value: float) -> float:
    """exp(-value) for value >= 0; in float32 code a polynomial good to 3e-7 of the result."""
    return math.exp(-value)


@intrinsic
def _sqrt_instruction(typingctx, value):
    def codegen(context, builder, signature, args):
        kind = args[0].type
        name = "llvm.sqrt.f32" if kind == ir.FloatType() else "llvm.sqrt.f64"
        function = builder.module.declare_intrinsic(name, (), ir.FunctionType(kind, (kind,)))
        return builder.call(function, args)

    return value(value), codegen


@intrinsic
def _power_of_two(typingctx, exponent):
    """2**exponent as float32, for an int32 exponent from -126 to 127, by its bit pattern."""

    def codegen(context, builder, signature, args):
        biased = builder.add(args[0], ir.Constant(ir.IntType(32), 127))
        shifted = builder.shl(biased, ir.Constant(ir.IntType(32), 23))
        return builder.bitcast(shifted, ir.FloatType())

    return types.float32(types.int32), codegen


@overload(sqrt, jit_options={"forceinline": True, "fastmath": True})
def _sqrt_compiled(value):
    return lambda value: _sqrt_instruction(value)


@overload(inverse_sqrt, jit_options={"forceinline": True, "fastmath": True})
def _inverse_sqrt_compiled(value):
    if value == types.float32:
        return lambda value: _ONE / _sqrt_instruction(value)
    return lambda value: 1.0 / _sqrt_instruction(value)


@overload(exp_negative, jit_options={"forceinline": True, "fastmath": True})
def _exp_negative_compiled(value):
    if value != types.float32:
        return lambda value: math.exp(-value)
    return _exp_negative_float32


_LOG2_E = np.float32(1.4426950408889634)
_LARGEST = np.float32(87.0)
_LN2 = np.float32(0.6931471805599453)
_HALF = np.float32(0.5)
_ONE = np.float32(1.0)
_C2, _C3, _C4, _C5, _C6 = (np.float32(1.0 / math.factorial(n)) for n in (2, 3, 4, 5, 6))


def _exp_negative_float32(value):
    """exp(-v) = 2**-n exp(-r), |r| <= ln(2)/2, by a Taylor polynomial of degree six."""
    bounded = min(value, _LARGEST)
    whole = types.int32(bounded * _LOG2_E + _HALF)
    r = types.float32(whole) * _LN2 - bounded
    series = _ONE + r * (_ONE + r * (_C2 + r * (_C3 + r * (_C4 + r * (_C5 + r * _C6)))))
    return series * _power_of_two(types.int32(-whole))
