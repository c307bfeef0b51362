"""The API put together: its operations, its errors, its OpenAPI."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import NinjaAPI, Router
from ninja.openapi.schema import OpenAPISchema

from chauka import __version__
from chauka.web.api import dishes, house, plan, shelf
from chauka.web.api.guard import JsonParser
from chauka.web.api.problems import CONTENT_TYPE, answer_in_words, problem


class Api(NinjaAPI):
    """Describes its problems with their own content type (RFC 9457)."""

    def get_openapi_schema(self, **options: Any) -> OpenAPISchema:
        """The description of all operations."""
        described = super().get_openapi_schema(**options)
        for operations in described["paths"].values():
            for operation in operations.values():
                for answer in operation["responses"].values():
                    _with_own_type(answer.get("content", {}))
        return described


def _with_own_type(content: dict[str, Any]) -> None:
    json_type = content.get("application/json", {})
    if json_type.get("schema", {}).get("$ref", "").endswith("/Problem"):
        content[CONTENT_TYPE] = content.pop("application/json")


api = Api(
    title="chauka",
    version=__version__,
    description="From market to table to page. Amounts are grams, money the smallest coin, times those of the house.",
    urls_namespace="api",
    parser=JsonParser(),
    docs_url=None,  # its page would load scripts from elsewhere
    openapi_extra={
        "components": {
            "securitySchemes": {
                "device": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "Where the pages are shared: the token of `/api/sign-in`.",
                }
            }
        }
    },
)
answer_in_words(api)
api.add_router("", house.router)
api.add_router("/dishes", dishes.router)
api.add_router("/shelf", shelf.router)
api.add_router("", plan.router)


_anything_else = Router()


@_anything_else.api_operation(["GET", "POST", "PUT", "DELETE", "PATCH"], "/{path:rest}", include_in_schema=False)
def elsewhere(request: HttpRequest, rest: str) -> HttpResponse:
    """Any other address."""
    return problem(404, f"there is nothing at /api/{rest}; /api/openapi.json names what there is")


api.add_router("", _anything_else)
