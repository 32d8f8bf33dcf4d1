"""Settings speak up: a wrong name stops the start, and nobody opens the book to the world unawares."""

from pathlib import Path

import pytest

from studio.settings import (
    SettingsWrong,
    check_reach,
    demo_settings,
    is_guessable,
    is_loopback,
    read_settings,
)

SECRET = "9vUq3-Rk2mZt7_Lw8sYb1nXe4hGa6dPc"
ADDRESS = "https://book.wrenfold.example"
EVERYWHERE = "0.0.0.0"  # noqa: S104  the tests are about what this asks for


def given(monkeypatch: pytest.MonkeyPatch, **names: str) -> None:
    for name, value in names.items():
        monkeypatch.setenv(f"STUDIO_{name}", value)


def test_without_any_setting_the_app_stays_on_this_machine() -> None:
    settings = read_settings()
    assert (settings.host, settings.port, settings.time_zone) == ("127.0.0.1", 8321, "Europe/London")
    assert settings.book_file == Path.home() / "shankwright" / "book.db"
    assert settings.base_url == "http://127.0.0.1:8321"
    check_reach(settings)


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("STUDIO_SECRETS", "Did you mean STUDIO_SECRET?"),
        ("STUDIO_HOMEE", "Did you mean STUDIO_HOME?"),
        ("STUDIO_TIMEZONE", "Did you mean STUDIO_TIME_ZONE?"),
        ("STUDIO_DB_URL", "Did you mean STUDIO_DATABASE_URL?"),
        ("STUDIO_XYZZYXYZZY", "There are STUDIO_ADDRESS, "),
    ],
)
def test_an_unknown_name_stops_the_start_with_the_nearest_right_one(
    monkeypatch: pytest.MonkeyPatch, name: str, meant: str
) -> None:
    monkeypatch.setenv(name, "x")
    with pytest.raises(SettingsWrong) as told:
        read_settings()
    assert str(told.value).startswith(f"There is no setting {name}. {meant}")


@pytest.mark.parametrize(
    ("name", "value"),
    [("PORT", "eighty"), ("TIME_ZONE", "Mars/Olympus"), ("TIME_ZONE", "../etc"), ("TLS", "maybe")],
)
def test_a_value_that_cannot_be_read_names_its_setting(
    monkeypatch: pytest.MonkeyPatch, name: str, value: str
) -> None:
    given(monkeypatch, **{name: value})
    with pytest.raises(SettingsWrong, match=f"^STUDIO_{name}: "):
        read_settings()


def test_what_the_command_line_says_goes_before_the_environment(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    given(monkeypatch, PORT="9000", HOME="/somewhere/else", HOST="::1")
    settings = read_settings(home=tmp_path, port=None)
    assert (settings.home, settings.port, settings.base_url) == (tmp_path, 9000, "http://[::1]:9000")


def test_an_empty_variable_is_as_good_as_none(monkeypatch: pytest.MonkeyPatch) -> None:
    given(monkeypatch, SECRET="", DATABASE_URL="")
    assert (read_settings().secret, read_settings().database_url) == (None, None)


def test_a_database_server_takes_the_place_of_the_file(monkeypatch: pytest.MonkeyPatch) -> None:
    given(monkeypatch, DATABASE_URL="postgresql+psycopg://studio@localhost/book")
    settings = read_settings()
    assert settings.book_file is None
    assert settings.book_url == "postgresql+psycopg://studio@localhost/book"


def test_a_demo_is_a_file_on_this_machine_whatever_is_set(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    given(
        monkeypatch, DATABASE_URL="postgresql://x/y", HOST=EVERYWHERE, SECRET=SECRET, TLS="proxy", PORT="9001"
    )
    settings = demo_settings(tmp_path, None)
    assert settings.book_url == f"sqlite:///{tmp_path / 'book.db'}"
    assert settings.base_url == "http://127.0.0.1:9001"
    assert (settings.secret, settings.tls) == (None, None)


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.0.1", "::1", "localhost"])
def test_these_hosts_are_this_machine(host: str) -> None:
    assert is_loopback(host)


@pytest.mark.parametrize("host", [EVERYWHERE, "::", "192.168.1.7", "studio.example"])
@pytest.mark.parametrize(
    ("names", "missing"),
    [
        ({}, ("STUDIO_SECRET", "STUDIO_TLS")),
        ({"SECRET": SECRET}, ("STUDIO_TLS",)),
        ({"TLS": "proxy", "ADDRESS": ADDRESS}, ("STUDIO_SECRET",)),
        ({"TLS": "proxy", "ADDRESS": ADDRESS, "SECRET": SECRET[:31]}, ("STUDIO_SECRET, at least 32 signs",)),
    ],
    ids=["neither", "no TLS", "no secret", "a short secret"],
)
def test_listening_wider_is_refused_with_what_is_missing(
    monkeypatch: pytest.MonkeyPatch, host: str, names: dict[str, str], missing: tuple[str, ...]
) -> None:
    given(monkeypatch, HOST=host, **names)
    with pytest.raises(SettingsWrong) as told:
        check_reach(read_settings())
    said = str(told.value).split("Still missing: ")[1]
    assert all(name in said for name in missing)
    assert ("STUDIO_SECRET" in said) == any("SECRET" in name for name in missing)
    assert SECRET not in said


def test_listening_wider_with_secret_and_tls_is_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    given(monkeypatch, HOST=EVERYWHERE, SECRET=SECRET, TLS="proxy", ADDRESS="https://book.wrenfold.example/")
    settings = read_settings()
    check_reach(settings)
    assert settings.base_url == "https://book.wrenfold.example"


def test_a_certificate_of_ones_own_must_be_there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    certificate, key = tmp_path / "cert.pem", tmp_path / "key.pem"
    given(monkeypatch, TLS="files", TLS_CERTIFICATE=str(certificate), TLS_KEY=str(key))
    certificate.touch()
    with pytest.raises(SettingsWrong, match="STUDIO_TLS_KEY"):
        check_reach(read_settings())
    key.touch()
    check_reach(read_settings())


def test_the_secret_is_never_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    given(monkeypatch, SECRET=SECRET)
    assert SECRET not in repr(read_settings())


@pytest.mark.parametrize("host", ["127.0.0.1", EVERYWHERE])
def test_behind_a_proxy_only_the_address_says_what_browsers_call_us(
    monkeypatch: pytest.MonkeyPatch, host: str
) -> None:
    given(monkeypatch, HOST=host, SECRET=SECRET, TLS="proxy")
    with pytest.raises(SettingsWrong, match="STUDIO_ADDRESS"):
        check_reach(read_settings())
    given(monkeypatch, ADDRESS=ADDRESS)
    check_reach(read_settings())


@pytest.mark.parametrize("host", [EVERYWHERE, "::"])
def test_a_host_that_is_every_address_of_the_machine_wants_the_one_browsers_use(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, host: str
) -> None:
    file = tmp_path / "both.pem"
    file.touch()
    given(monkeypatch, HOST=host, SECRET=SECRET, TLS="files", TLS_CERTIFICATE=str(file), TLS_KEY=str(file))
    with pytest.raises(SettingsWrong, match="STUDIO_ADDRESS"):
        check_reach(read_settings())
    given(monkeypatch, HOST="192.168.1.7")
    check_reach(read_settings())


@pytest.mark.parametrize(
    "secret",
    [
        "x" * 40,
        "0101" * 10,
        "abc" * 20,
        "ring-maker-" * 4,
        "changeme-changeme-changeme-please",
        "This is the Secret of our little studio",
        "MyVeryLongPasswordForTheOrderBook",
        "0123456789012345678901234567890123",
    ],
)
@pytest.mark.parametrize("host", ["127.0.0.1", EVERYWHERE])
def test_a_secret_that_would_be_guessed_is_refused_and_not_repeated(
    monkeypatch: pytest.MonkeyPatch, secret: str, host: str
) -> None:
    given(monkeypatch, HOST=host, SECRET=secret, TLS="proxy", ADDRESS=ADDRESS)
    with pytest.raises(SettingsWrong, match=r"^STUDIO_SECRET can be guessed") as told:
        check_reach(read_settings())
    assert secret not in str(told.value)


@pytest.mark.parametrize(
    "secret",
    [SECRET, "c1f09b7e4ad2583690ee7fb1ad40c52b", "Kq7sPz0-Hn_5vR2dXw8LtYb3mJc6GfUa1oEi4NS9"],
)
def test_a_secret_of_chance_is_taken(secret: str) -> None:
    assert not is_guessable(secret)


PORT_WORDS = "STUDIO_PORT: A port is a whole number from 0 to 65535, such as 8321."
NO_ZONE = "STUDIO_TIME_ZONE: There is no time zone of this name."


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("PORT", "eighty", PORT_WORDS),
        ("PORT", "70000", PORT_WORDS),
        ("PORT", "-1", PORT_WORDS),
        ("TLS", "maybe", "STUDIO_TLS: There are 'proxy' and 'files'."),
        ("TIME_ZONE", "Europe/Lodnon", f"{NO_ZONE} Did you mean Europe/London?"),
        ("TIME_ZONE", "Erope/Paris", f"{NO_ZONE} Did you mean Europe/Paris?"),
        ("TIME_ZONE", "../../x", f"{NO_ZONE} One is Europe/London."),
        (
            "ADDRESS",
            "book.wrenfold.example",
            "STUDIO_ADDRESS: This is no whole address, such as https://book.wrenfold.example.",
        ),
    ],
)
def test_a_setting_that_cannot_be_read_is_told_in_the_studios_words(
    monkeypatch: pytest.MonkeyPatch, name: str, value: str, sentence: str
) -> None:
    given(monkeypatch, **{name: value})
    with pytest.raises(SettingsWrong) as told:
        read_settings()
    assert str(told.value) == sentence


def test_a_folder_of_time_zones_is_no_time_zone(monkeypatch: pytest.MonkeyPatch) -> None:
    given(monkeypatch, TIME_ZONE="Europe")
    with pytest.raises(SettingsWrong, match=NO_ZONE):
        read_settings()


def test_without_a_mail_server_none_is_set() -> None:
    assert read_settings().mail_server is None


def test_a_mail_server_is_spoken_to_encrypted_unless_it_is_on_this_machine(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    given(monkeypatch, SMTP_HOST="mail.wrenfold.example", SMTP_USER="book", SMTP_PASSWORD="heron-weir")
    settings = read_settings()
    check_reach(settings)
    server = settings.mail_server
    assert server is not None
    assert (server.host, server.security, server.port, server.user, server.password) == (
        "mail.wrenfold.example", "starttls", None, "book", "heron-weir",
    )  # fmt: skip
    assert "heron-weir" not in repr(settings) + repr(server)
    assert demo_settings(Path("/nowhere"), None).mail_server is None
    given(monkeypatch, SMTP_SECURITY="none")
    with pytest.raises(SettingsWrong, match="in the open") as told:
        check_reach(read_settings())
    assert "heron-weir" not in str(told.value)
    given(monkeypatch, SMTP_HOST="localhost")
    check_reach(read_settings())


@pytest.mark.parametrize(
    ("names", "told"),
    [
        ({"SMTP_PORT": "587"}, "STUDIO_SMTP_PORT needs STUDIO_SMTP_HOST."),
        ({"SMTP_HOST": "mail.example", "SMTP_USER": "book"}, "are given together"),
        ({"SMTP_HOST": "mail.example", "SMTP_PASSWORD": "heron-weir"}, "are given together"),
        ({"SMTP_HOST": "mail.example", "SMTP_USER": "book", "SMTP_PASSWORD": "Fähre"}, "plain ASCII"),
        ({"SMTP_HOST": "mail.example", "SMTP_PORT": "0"}, "^STUDIO_SMTP_PORT: A port is a whole number"),
        (
            {"SMTP_HOST": "mail.example", "SMTP_SECURITY": "ssl"},
            "^STUDIO_SMTP_SECURITY: There are 'starttls'",
        ),
        ({"SMTP_PASSWROD": "heron-weir"}, "Did you mean STUDIO_SMTP_PASSWORD"),
    ],
)
def test_what_does_not_fit_together_of_a_mail_server_is_said(
    monkeypatch: pytest.MonkeyPatch, names: dict[str, str], told: str
) -> None:
    given(monkeypatch, **names)
    with pytest.raises(SettingsWrong, match=told) as refused:
        check_reach(read_settings())
    assert "heron-weir" not in str(refused.value)
    assert "Fähre" not in str(refused.value)
