"""The files of a new job: a commented job file, what editors check it by, and the price files a user edits."""

from estimator.resources import read_text

JOB = "job.toml"
SCHEMA = "job.schema.json"
EDITED = ("prices.csv", "merchants.csv", "labour.csv")
"""Shipped tables that a user changes first: copies beside the job, whose rows replace the shipped ones."""


def starter_files() -> dict[str, str]:
    """The text of every file of a new job, by its name; the job can be estimated as it stands."""
    files = {JOB: read_text("templates", f"starter/{JOB}"), SCHEMA: read_text("templates", SCHEMA)}
    return files | {name: read_text("catalogues", name) for name in EDITED}
