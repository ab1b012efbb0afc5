"""A file's model as JSON Schema (draft 2020-12), so that an editor completes and checks files."""

from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class _OfFiles(GenerateJsonSchema):
    """Without defaults: they are SI numbers, which a file's field does not take."""

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])


def schema_of(model: type[BaseModel]) -> dict[str, Any]:
    """The schema of a file.

    It knows tables, keys, words and units; what is plausible, and what must agree with what, is
    said by the description of a field and checked when the file is read.
    """
    found = model.model_json_schema(schema_generator=_OfFiles)
    return {"$schema": DIALECT} | found
