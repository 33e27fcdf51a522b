"""The API held to its own description: whatever is sent, the answer is one that it names."""

from __future__ import annotations

import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from nextpair.web.app import api_of
from served import home_at

EXAMPLES = 12
SCHEMA = schemathesis.openapi.from_asgi("/openapi.json", api_of(home_at()))


@SCHEMA.parametrize()
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
def test_every_operation_answers_as_it_is_described(case):
    case.call_and_validate(
        checks=(
            not_a_server_error,
            status_code_conformance,
            content_type_conformance,
            response_schema_conformance,
        ),
    )
