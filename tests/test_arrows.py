"""Imports only ever run down the pipeline, and the command starts without the heavy libraries."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "estimator"
MODELS = {"problems", "rounding", "amounts", "memory", "likeness"}
# What each folder may import besides itself, the problems, what a word is like, the rounding, amounts in words and the memory. `model` modules are values and may be
# named from anywhere below.
ALLOWED: dict[str, set[str]] = {
    "job": {"quantities", "catalogue.model", "catalogue.codes", "resources"},
    "catalogue": {"job.model", "resources", "checks.model"},
    "building": {"job"},
    "setout": {"job", "catalogue", "building", "checks.model"},
    "routing": {"job", "catalogue", "building", "setout", "checks.model", "solvers"},
    "takeoff": {"job", "catalogue", "setout", "routing"},
    "buying": {"job", "catalogue", "takeoff", "checks.model", "solvers"},
    "costing": {"job", "catalogue", "takeoff", "buying"},
    "checks": {"job", "catalogue", "building", "setout", "routing", "takeoff", "buying", "costing"},
    "drawings": {
        "job.model",
        "catalogue.model",
        "building",
        "setout.model",
        "routing.model",
        "checks.model",
        "result",
        "costing.model",
        "documents.words",
        "routing.zone_distance",
        "routing.hole_spacing",
        "routing.zone_findings",
        "routing.words",
        "routing.drilling",
    },
    "documents": {
        "job.model",
        "catalogue.model",
        "building.model",
        "setout.model",
        "routing.model",
        "takeoff.model",
        "buying.model",
        "costing.model",
        "checks.model",
        "result",
        "drawings",
        "resources",
        "takeoff.labels",
        "routing.zones",
        "routing.hole_spacing",
        "routing.zone_findings",
        "routing.words",
        "buying.margins",
        "buying.spare_points",
        "buying.drums",
        "buying.asked_lengths",
        "buying.first_fit",
        "compare",
        "returned.model",
        "returned.compare",
        "returned.changes",
    },
    "compare": {
        "quantities",
        "job",
        "catalogue",
        "setout.model",
        "routing.model",
        "routing.adjoining",
        "takeoff",
        "buying",
        "costing",
        "checks.model",
        "estimate",
        "result",
        "setout",
        "building",
    },
    "returned": {
        "quantities",
        "job.model",
        "catalogue",
        "buying",
        "costing.model",
        "estimate",
        "result",
        "documents.list_asked",
        "documents.list_model",
        "documents.list_papers",
        "documents.list_words",
        "documents.shelves",
        "documents.shopping",
        "documents.words",
    },
}
DOORS = {"commands"}
"""They read, call and write, and may name anything."""


def modules() -> list[Path]:
    inside = [path for path in PACKAGE.rglob("*.py") if path.parent != PACKAGE]
    return sorted(path for path in inside if path.relative_to(PACKAGE).parts[0] not in DOORS)


def imports_of(path: Path) -> list[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    names = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    names += [alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names]
    return [name.removeprefix("estimator.") for name in names if name.startswith("estimator.")]


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_module_imports_only_what_stands_above_it_in_the_pipeline(path: Path) -> None:
    folder = path.relative_to(PACKAGE).parts[0]
    allowed = ALLOWED[folder] | MODELS | {folder}
    strangers = [
        name for name in imports_of(path) if not any(name == of or name.startswith(f"{of}.") for of in allowed)
    ]
    assert strangers == []


def test_help_answers_without_the_heavy_libraries() -> None:
    code = (
        "import sys; from typer.testing import CliRunner; from estimator.cli import app\n"
        "assert CliRunner().invoke(app, ['--help']).exit_code == 0\n"
        "print(sorted({name.split('.')[0] for name in sys.modules} & "
        "{'pandas', 'scipy', 'pint', 'openpyxl', 'numpy', 'highspy', 'xlsxwriter', 'jinja2'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
