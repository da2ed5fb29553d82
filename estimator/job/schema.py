"""The JSON Schema of a job file, for editors that check while one types: from the table of keys, text out.

Only keywords that drafts 4 and 7 share. After a change of the table of keys, write the shipped file anew with
`python -m estimator.job.schema > templates/job.schema.json`; a test holds the two against each other.
"""

import json
import sys
from datetime import date
from decimal import Decimal

from estimator.job.keys import JOB
from estimator.job.kinds import Kind
from estimator.job.shapes import Either, Key, ListOf, MapOf, Shape, TableOf


def schema_text() -> str:
    """The whole schema, indented, with a newline at its end."""
    whole = {"$schema": "http://json-schema.org/draft-07/schema#", "title": "Job", **_schema(JOB)}
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _schema(shape: Shape) -> dict[str, object]:
    match shape:
        case Kind():
            return dict(shape.schema)
        case TableOf():
            return _table(shape)
        case ListOf():
            return {
                "type": "array",
                "items": _schema(shape.item),
                "minItems": shape.least,
                "maxItems": shape.most,
            }
        case MapOf():
            return {"type": "object", "additionalProperties": _schema(shape.item)}
        case Either():
            return {"anyOf": [_schema(option) for option in shape.options]}


def _table(shape: TableOf) -> dict[str, object]:
    found: dict[str, object] = {
        "type": "object",
        "additionalProperties": False,
        "properties": {key.name: _property(key) for key in shape.keys},
    }
    required = [key.name for key in shape.keys if key.required]
    # Draft 4 knows no empty list here.
    return found | {"required": required} if required else found


def _property(key: Key) -> dict[str, object]:
    found = {"description": key.meaning + (" (not used yet)" if key.later else ""), **_schema(key.shape)}
    return found if key.default in (None, {}, []) else found | {"default": _plain(key.default)}


def _plain(value: object) -> object:
    """A default as JSON has it."""
    if isinstance(value, Decimal):
        return float(value)
    return str(value) if isinstance(value, date) else value


if __name__ == "__main__":
    sys.stdout.write(schema_text())
