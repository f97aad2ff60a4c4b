"""The numbers of the catalogue of solids, as small expressions: seeds stay exact and readable."""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Callable, Mapping


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    """The root of a rising function, by halving, to the last digit."""
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if function(middle) < 0 else (low, middle)
    return (low + high) / 2


PHI = (1 + math.sqrt(5)) / 2
CONSTANTS: Mapping[str, float] = {
    "pi": math.pi,
    "phi": PHI,
    "tribonacci": _root(lambda x: x**3 - x**2 - x - 1, 1, 2),
    "snub": _root(lambda x: x**3 + 2 * x**2 - PHI**2, 0, 2),
}
"""Names that an expression may use beside those given to it."""

_FUNCTIONS: Mapping[str, Callable[[float], float]] = {"sqrt": math.sqrt, "cos": math.cos, "sin": math.sin}
_OPERATIONS: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


def value(text: str, names: Mapping[str, float] | None = None) -> float:
    """The value of an expression with + - * /, sqrt, cos, sin, the constants and the names given.

    Raises: ValueError for anything else.

    Example:
        >>> value("sqrt(2)*x - 1", {"x": 2.0}) == 2 * 2**0.5 - 1
        True
    """
    return _value(ast.parse(text, mode="eval").body, {**CONSTANTS, **(names or {})}, text)


def _value(node: ast.expr, names: Mapping[str, float], text: str) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name) if name in names:
            return names[name]
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _OPERATIONS:
            return _OPERATIONS[type(op)](_value(left, names, text), _value(right, names, text))
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, names, text)
        case ast.Call(func=ast.Name(id=name), args=[argument], keywords=[]) if name in _FUNCTIONS:
            return _FUNCTIONS[name](_value(argument, names, text))
    raise ValueError(f"expression: found {text!r}; accepted: + - * /, sqrt, cos, sin and {', '.join(names)}")
