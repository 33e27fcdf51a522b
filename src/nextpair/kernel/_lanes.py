"""Reads and writes of float32 arrays that the vectoriser can prove independent.

Two plain arrays might overlap for all the compiler knows, and one table look-up beside one store
then keeps a loop from being vectorised. Here every read carries the promise that it does not
overlap a store of the same loop iteration, which the callers keep: they store only to the state
that the same iteration has already read. Source: [llvm-langref] alias.scope and noalias metadata.
"""

from __future__ import annotations

from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic, overload


def _scopes(module, name):
    domain = module.add_metadata([ir.MetaDataString(module, "nextpair")])
    scope = module.add_metadata([ir.MetaDataString(module, name), domain])
    return module.add_metadata([scope])


def _pointer(context, builder, signature, args):
    array = context.make_array(signature.args[0])(context, builder, args[0])
    index = args[1]
    if signature.args[1].bitwidth < 64:
        index = builder.sext(index, ir.IntType(64))
    return cgutils.gep(builder, array.data, index)


def _own(module, instruction, own, other):
    instruction.set_metadata("alias.scope", _scopes(module, own))
    instruction.set_metadata("noalias", _scopes(module, other))


@intrinsic
def read_table(typingctx, array, index):
    """array[index] of a one-dimensional float32 array that this loop only reads."""

    def codegen(context, builder, signature, args):
        value = builder.load(_pointer(context, builder, signature, args), align=4)
        _own(builder.module, value, "table", "state")
        return value

    return types.float32(array, index), codegen


@intrinsic
def read_state(typingctx, array, index):
    """array[index] of the one-dimensional float32 state that this loop updates in place."""

    def codegen(context, builder, signature, args):
        value = builder.load(_pointer(context, builder, signature, args), align=4)
        _own(builder.module, value, "state", "table")
        return value

    return types.float32(array, index), codegen


@intrinsic
def write_state(typingctx, array, index, value):
    """array[index] = value for the one-dimensional float32 state."""

    def codegen(context, builder, signature, args):
        pointer = _pointer(context, builder, signature, args)
        _own(builder.module, builder.store(args[2], pointer, align=4), "state", "table")
        return context.get_dummy_value()

    return types.void(array, index, types.float32), codegen


def read_three(state, first, second, third, wanted):
    """Three numbers of the state; None, and nothing of it compiled, where `wanted` is None."""


@overload(read_three, jit_options={"forceinline": True, "fastmath": True})
def _read_three_compiled(state, first, second, third, wanted):
    if isinstance(wanted, types.NoneType):
        return lambda state, first, second, third, wanted: None
    return lambda state, first, second, third, wanted: (
        read_state(state, first),
        read_state(state, second),
        read_state(state, third),
    )
