"""Sheets drawn for a printer: on its paper, and as much longer or shorter as it prints them short or long."""
