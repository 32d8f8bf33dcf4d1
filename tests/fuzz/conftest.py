from tests.web.conftest import house, shared_app

__all__ = ["house", "shared_app"]
