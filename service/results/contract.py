"""The version of the wire contract; a release of it never changes (see openapi/CHANGELOG.md)."""

CONTRACT = "1.0.0"
