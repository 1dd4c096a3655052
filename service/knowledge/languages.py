"""The languages that every text is written in; the first is the one that others fall back to."""

LANGUAGES = ("en", "es")
ENGLISH = LANGUAGES[0]
