"""Small changes to a module's source, each of which a test should notice; what no test could notice is left alone.

Left alone: docstrings, sentences, messages of errors, annotations, decorators, `__all__`, `Literal`, assertions that
only tell a type.  What is left may still be without effect (`x.get(key, 0)` beside `x.get(key)`), so what lives is a
thing to read, not yet a fault.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is}
WORKED_OUT: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr}
CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
COUNTED = frozenset({"sum", "len"})

SMALL, STEP = 10, 40
"""A whole number over SMALL is also moved by STEP: as far as from one size of breaker or service to the next."""

KEY = re.compile(r"[a-z][a-z0-9]*([ -][a-z0-9]+){0,4}")
"""Text that is read as the name of a thing, and not a sentence."""

NOT_READ = frozenset({"annotation", "returns", "decorator_list", "format_spec"})


@dataclass(frozen=True, slots=True)
class Mutation:
    """One change: the line of the module as it is, what stood there, and what stands there now."""

    number: int
    line: int
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class _Place:
    """A node, and the field of its parent (with the index in it) that holds it."""

    node: ast.AST
    parent: ast.AST
    field: str
    index: int | None

    def put(self, node: ast.AST) -> None:
        if self.index is None:
            setattr(self.parent, self.field, node)
        else:
            getattr(self.parent, self.field)[self.index] = node


def mutations(source: str) -> tuple[Mutation, ...]:
    """Every change to a module, in the order of its text."""
    return tuple(found for found, _ in _each(ast.parse(source)))


def mutated(source: str, number: int) -> str:
    """The module with one change made."""
    tree = ast.parse(source)
    for found, _ in _each(tree):
        if found.number == number:
            return ast.unparse(tree) + "\n"
    raise IndexError(f"the module has no change {number}")


def _each(tree: ast.Module) -> Iterator[tuple[Mutation, ast.AST]]:
    """Every change; the tree holds it until the next is asked for."""
    places = list(_places(tree))
    keys = list(dict.fromkeys(place.node.value for place in places if _is_key(place.node)))
    number = 0
    for place in places:
        was = ast.unparse(place.node)
        for other in _others(place, keys):
            now = ast.unparse(ast.fix_missing_locations(other))
            if now == was:
                continue
            place.put(other)
            yield Mutation(number, place.node.lineno, was, now), other
            place.put(place.node)
            number += 1


def _places(parent: ast.AST) -> Iterator[_Place]:
    for field, held in ast.iter_fields(parent):
        if field in NOT_READ:
            continue
        nodes = held if isinstance(held, list) else [held]
        for i, node in enumerate(nodes):
            if isinstance(node, ast.AST) and not _left_alone(node, parent):
                if isinstance(node, ast.expr):
                    yield _Place(node, parent, field, i if isinstance(held, list) else None)
                yield from _places(node)


def _left_alone(node: ast.AST, parent: ast.AST) -> bool:
    match node:
        case ast.Raise() | ast.Assert() | ast.Import() | ast.ImportFrom():
            return True
        case ast.Expr(value=ast.Constant()):
            return True
        case ast.Assign(targets=[ast.Name(id="__all__")]):
            return True
        case ast.Subscript(value=ast.Name(id="Literal")):
            return True
        case ast.Constant():
            return isinstance(parent, ast.JoinedStr)
    return False


def _is_key(node: Any) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and bool(KEY.fullmatch(node.value))


def _others(place: _Place, keys: list[str]) -> Iterator[ast.expr]:
    node = place.node
    match node:
        case ast.Compare():
            yield from _compared(node)
        case ast.BoolOp():
            yield ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield node.operand
        case ast.BinOp():
            yield from _worked_out(node)
        case ast.Constant():
            yield from _constant(node, keys)
        case ast.Call():
            yield from _called(node)
        case ast.Slice():
            yield from _sliced(node)
        case ast.Tuple() if isinstance(place.parent, ast.Return | ast.Lambda):
            yield from (ast.Tuple(order, ast.Load()) for order in _swapped(node.elts))
    yield from _forced(place)


def _forced(place: _Place) -> Iterator[ast.expr]:
    asked = (isinstance(place.parent, ast.If | ast.IfExp) and place.field == "test") or place.field == "ifs"
    if asked:
        yield from (ast.Constant(True), ast.Constant(False))


def _compared(node: ast.Compare) -> Iterator[ast.expr]:
    for i, op in enumerate(node.ops):
        yield ast.Compare(node.left, [*node.ops[:i], COMPARED[type(op)](), *node.ops[i + 1:]], node.comparators)


def _worked_out(node: ast.BinOp) -> Iterator[ast.expr]:
    """Sums and products; what joins text or tuples, and the `|` of a type, is no sum."""
    joins = any(isinstance(side, ast.JoinedStr | ast.Tuple | ast.List)
                or (isinstance(side, ast.Constant) and isinstance(side.value, str | type(None)))
                for side in (node.left, node.right))
    if not joins and type(node.op) in WORKED_OUT:
        yield ast.BinOp(node.left, WORKED_OUT[type(node.op)](), node.right)


def _constant(node: ast.Constant, keys: list[str]) -> Iterator[ast.expr]:
    value = node.value
    if isinstance(value, int) and not isinstance(value, bool):
        yield from (ast.Constant(value + 1), ast.Constant(value - 1))
        if value > SMALL:
            yield ast.Constant(value + STEP)
        if value > STEP:
            yield ast.Constant(value - STEP)
    elif isinstance(value, float):
        yield from (ast.Constant(value * 1.1 or 0.1), ast.Constant(value / 1.1 or -0.1))
    elif _is_key(node) and len(keys) > 1:
        yield ast.Constant(keys[(keys.index(str(value)) + 1) % len(keys)])


def _called(node: ast.Call) -> Iterator[ast.expr]:
    name = node.func.id if isinstance(node.func, ast.Name) else None
    if name in CALLED:
        yield ast.Call(ast.Name(CALLED[name], ast.Load()), node.args, node.keywords)
    if name in COUNTED:
        yield ast.BinOp(node, ast.Add(), ast.Constant(1))
    if name is not None and name[0].isupper() and all(isinstance(arg, ast.Name | ast.Attribute) for arg in node.args):
        yield from (ast.Call(node.func, order, node.keywords) for order in _swapped(node.args))
    named = [word for word in node.keywords if word.arg is not None]
    for values in _swapped([word.value for word in named]):
        words = [ast.keyword(word.arg, value) for word, value in zip(named, values, strict=True)]
        yield ast.Call(node.func, node.args, [*words, *(word for word in node.keywords if word.arg is None)])


def _sliced(node: ast.Slice) -> Iterator[ast.expr]:
    """Bounds one further; a bound that is a number is moved as a number."""
    for name in ("lower", "upper"):
        bound = getattr(node, name)
        if bound is not None and not isinstance(bound, ast.Constant):
            moved = deepcopy(node)
            setattr(moved, name, ast.BinOp(bound, ast.Add(), ast.Constant(1)))
            yield moved


def _swapped(nodes: list[ast.expr]) -> Iterator[list[ast.expr]]:
    """Each pair of neighbours that differ, changed over."""
    for i, (one, two) in enumerate(pairwise(nodes)):
        if ast.unparse(one) != ast.unparse(two):
            yield [*nodes[:i], two, one, *nodes[i + 2:]]


__all__ = ["Mutation", "mutated", "mutations"]
