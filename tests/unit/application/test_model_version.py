"""The model's hash: the same for the same model, another for any other."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

import nextpair
from nextpair.application.model_version import (
    COMPILED_PACKAGES,
    MODEL_PACKAGES,
    compiled_version,
    model_version,
    version_of,
)


@pytest.fixture
def model(tmp_path) -> Path:
    for package in (*MODEL_PACKAGES, "reports"):
        (tmp_path / package).mkdir()
        (tmp_path / package / "module.py").write_text("x = 1\n")
    (tmp_path / "carry" / "table.npz").write_bytes(b"\x00\x01")
    return tmp_path


def test_it_is_short_and_repeatable(model):
    version = version_of(model, MODEL_PACKAGES)
    assert len(version) == 12
    assert int(version, 16) >= 0
    assert version_of(model, MODEL_PACKAGES) == version


@pytest.mark.parametrize("package", MODEL_PACKAGES)
def test_any_edit_in_the_model_changes_it(model, package):
    before = version_of(model, MODEL_PACKAGES)
    (model / package / "module.py").write_text("x = 2\n")
    assert version_of(model, MODEL_PACKAGES) != before


def test_data_and_names_count_too(model):
    before = version_of(model, MODEL_PACKAGES)
    (model / "carry" / "table.npz").write_bytes(b"\x00\x02")
    changed = version_of(model, MODEL_PACKAGES)
    (model / "kernel" / "module.py").rename(model / "kernel" / "renamed.py")
    assert len({before, changed, version_of(model, MODEL_PACKAGES)}) == 3


def test_content_cannot_slip_from_one_file_into_the_next(model):
    (model / "kernel" / "a.py").write_text("ab")
    (model / "kernel" / "b.py").write_text("c")
    before = version_of(model, MODEL_PACKAGES)
    (model / "kernel" / "a.py").write_text("a")
    (model / "kernel" / "b.py").write_text("bc")
    assert version_of(model, MODEL_PACKAGES) != before


def test_what_is_not_the_model_does_not_count(model):
    before = version_of(model, MODEL_PACKAGES)
    (model / "reports" / "module.py").write_text("x = 2\n")
    (model / "kernel" / "__pycache__").mkdir()
    (model / "kernel" / "__pycache__" / "module.cpython-311.pyc").write_bytes(b"anything")
    (model / "kernel" / "__pycache__" / "module.nbi").write_bytes(b"anything")
    assert version_of(model, MODEL_PACKAGES) == before


def test_the_installed_model_is_hashed():
    installed = Path(nextpair.__file__).parent
    assert model_version() == version_of(installed, MODEL_PACKAGES)
    assert compiled_version() == version_of(installed, COMPILED_PACKAGES)


def test_an_edit_of_the_plan_changes_the_model_and_keeps_the_compiled_code(model):
    model_before, compiled_before = (
        version_of(model, packages) for packages in (MODEL_PACKAGES, COMPILED_PACKAGES)
    )
    (model / "planning" / "module.py").write_text("x = 2\n")
    assert version_of(model, MODEL_PACKAGES) != model_before
    assert version_of(model, COMPILED_PACKAGES) == compiled_before


def test_every_package_that_compiled_code_imports_decides_its_folder():
    """The compiler takes functions and constants from other modules without watching them."""
    package = Path(nextpair.__file__).parent
    imported = {
        found.group(1)
        for compiled in COMPILED_PACKAGES
        for path in (package / compiled).glob("*.py")
        for found in re.finditer(r"^from nextpair\.(\w+)", path.read_text("utf-8"), re.MULTILINE)
    }
    assert imported <= set(COMPILED_PACKAGES)


def test_it_is_known_without_any_library():
    probe = (
        "import sys; from nextpair.application.model_version import model_version;"
        "model_version(); print(*({'numpy', 'numba', 'scipy'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""
