from tests.web.conftest import house, made_book, shared_app

__all__ = ["house", "made_book", "shared_app"]
