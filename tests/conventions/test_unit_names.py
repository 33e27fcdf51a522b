"""A number says its unit in its name; pure numbers and symbols come from a registered list."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

from source_tree import PACKAGE, functions, parsed, python_files, shown

REGISTER = tomllib.loads((Path(__file__).parent / "unit_suffixes.toml").read_text("utf-8"))
UNITS = frozenset(unit for group in REGISTER["units"].values() for unit in group)
WORDS = frozenset(REGISTER["dimensionless"]["words"])
NAMES = frozenset(REGISTER["dimensionless"]["names"])
SYMBOL = re.compile(REGISTER["symbols"]["pattern"])
NUMBER = re.compile(r"\bfloat\b|Float\w*Array|float(32|64)")


def says_its_unit(name: str) -> bool:
    ends = {name.split("_", start)[-1] for start in range(name.count("_") + 1)}
    return name in NAMES or bool(ends & (UNITS | WORDS)) or SYMBOL.fullmatch(name) is not None


def is_number(annotation: ast.expr | None) -> bool:
    return annotation is not None and NUMBER.search(ast.unparse(annotation)) is not None


def fields(path: Path) -> list[str]:
    return [
        field.target.id
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ClassDef)
        for field in node.body
        if isinstance(field, ast.AnnAssign)
        and isinstance(field.target, ast.Name)
        and is_number(field.annotation)
    ]


def parameters(path: Path) -> list[str]:
    return [
        argument.arg
        for function in functions(path)
        if not function.name.startswith("_")
        for argument in (*function.args.args, *function.args.kwonlyargs)
        if is_number(argument.annotation)
    ]


def test_the_rule_tells_good_names_from_bad():
    assert says_its_unit("speed_mps")
    assert says_its_unit("film_gain_per_um")
    assert says_its_unit("oil_friction")
    assert says_its_unit("omega_x")
    assert not says_its_unit("speed")
    assert not says_its_unit("atoms")
    assert not says_its_unit("film_per_thing")


def test_fields_of_the_domain_say_their_unit():
    named = {shown(path): fields(path) for path in python_files(PACKAGE / "domain")}
    assert sum(map(len, named.values())) > 50, (
        "fields not found: the test looks in the wrong place"
    )
    wrong = {path: [n for n in names if not says_its_unit(n)] for path, names in named.items()}
    assert {path: names for path, names in wrong.items() if names} == {}


def test_parameters_of_physics_say_their_unit():
    # _jit.py is the door to the compiler: its `sqrt` and `exp_negative` take any number.
    paths = [path for path in python_files(PACKAGE / "physics") if path.name != "_jit.py"]
    named = {shown(path): parameters(path) for path in paths}
    assert sum(map(len, named.values())) > 30, (
        "parameters not found: the test looks in the wrong place"
    )
    wrong = {path: [n for n in names if not says_its_unit(n)] for path, names in named.items()}
    assert {path: names for path, names in wrong.items() if names} == {}
