"""The lists that change only with the version: each member declared once; dump and contract follow."""
