"""The book in PostgreSQL: a server of the tests' own, and what only a server can get wrong."""
