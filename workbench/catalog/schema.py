"""The catalogue's columns for other programs: a Table Schema, generated from the tank model.

Standard: Data Package, Table Schema, version 2.0 (Data Package Working Group, 2024). ``unit`` is a
property of our own, which the standard allows.
"""

from __future__ import annotations

import json
from typing import Any

from workbench.catalog.headers import FLAGS, OUR_HEADER, descriptions, required, titles
from workbench.catalog.rules import MEASURES
from workbench.catalog.tank import Tank
from workbench.words import tr

_BOUNDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


def table_schema() -> dict[str, Any]:
    """The Table Schema of a file with our own header, as plain data."""
    model = Tank.model_json_schema()
    return {
        "$schema": "https://datapackage.org/profiles/2.0/tableschema.json",
        "title": tr("Pressure tanks"),
        "description": tr(
            "One row per tank. The unit stands at the end of a column's name; another unit may "
            "stand there, and then counts. Pressures are gauge readings. Columns that are not "
            "required may be left out, and others may be added."
        ),
        "fields": [_field(field, model) for field in OUR_HEADER],
        "fieldsMatch": "partial",
        "missingValues": [""],
        "primaryKey": ["id"],
    }


def schema_text() -> str:
    """The same as the text of a JSON file."""
    return json.dumps(table_schema(), indent=2, ensure_ascii=False) + "\n"


def _field(field: str, model: dict[str, Any]) -> dict[str, Any]:
    described = model["properties"][field]
    described = described.get("anyOf", [described])[0]  # the other is null: not stated
    if "$ref" in described:
        described = model["$defs"][described["$ref"].rpartition("/")[2]]
    entry = {
        "name": OUR_HEADER[field],
        "title": titles()[field],
        "description": descriptions()[field],
        "type": "date" if described.get("format") == "date" else described["type"],
    }
    if field in FLAGS:
        entry |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if field in MEASURES:
        entry["unit"] = MEASURES[field].us
    if field == "price":
        entry["unit"] = Tank.model_fields["currency"].default
    return entry | {"constraints": _constraints(field, described)}


def _constraints(field: str, described: dict[str, Any]) -> dict[str, Any]:
    factor = MEASURES[field].units[MEASURES[field].us].factor if field in MEASURES else 1
    found: dict[str, Any] = {"required": field in required()}
    if field == "id":
        found["unique"] = True
    for bound in _BOUNDS:
        if bound in described:
            found[bound] = float(f"{described[bound] / factor:.12g}")
    for key in ("minLength", "maxLength", "enum"):
        if key in described:
            found[key] = described[key]
    return found
