"""The order book: per noun its tables, its reads, and the verbs that change it."""
