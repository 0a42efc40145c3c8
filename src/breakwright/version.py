"""The version, in one place: the builder reads it from here as well."""

__all__ = ["VERSION"]

VERSION = "0.1.0"
