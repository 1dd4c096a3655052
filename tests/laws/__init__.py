"""The ten laws of an answer, as properties that any answer to any document keeps."""
