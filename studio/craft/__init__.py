"""The trade: values in, values out. No database, no web, no clock, no settings."""
