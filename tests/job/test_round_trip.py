"""Any job survives saving and reading, and rubbish never does more than earn a sentence."""

from datetime import date
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from boardwright.core.errors import BoardwrightError
from boardwright.job.job import Job
from boardwright.job.read import parse_job, read_job
from boardwright.job.write import save_job, starter
from tests.job.homes import HOME, saved

SETTINGS = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow,
                           HealthCheck.filter_too_much, HealthCheck.data_too_large],
)  # fmt: skip
# Signs that only steer a machine are refused: all of C0 but tab and the ends of lines, and DEL.
STEERING = [chr(n) for n in (*range(32), 127) if chr(n) not in "\t\n\r"]
TEXT = st.text(
    st.characters(codec="utf-8", exclude_characters=STEERING), min_size=1, max_size=20
) | st.sampled_from(
    ["yes", "no", "null", "~", "# x", "a: b", "- a", "12", "0.5", " ", "a\n b", "é"]
)


def _number(field: FieldInfo, kind: type) -> st.SearchStrategy[Any]:
    limits = {
        name: getattr(limit, name)
        for limit in field.metadata
        for name in ("gt", "ge", "lt", "le")
        if hasattr(limit, name)
    }
    low, high = limits.get("gt", limits.get("ge", 0)), limits.get("le", 1000)
    if kind is int:
        return st.integers(low, high)
    return st.floats(low, high, exclude_min="gt" in limits, allow_nan=False)


def _value(annotation: Any, field: FieldInfo) -> st.SearchStrategy[Any]:  # noqa: ANN401 - any annotation
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin is Literal:
        return st.sampled_from(parts)
    if origin in {Union, UnionType}:
        return st.one_of(*(_value(part, field) for part in parts))
    if parts:
        return _of_parts(annotation, field)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return _model(annotation)
    longest = min((getattr(limit, "max_length", 20) for limit in field.metadata), default=20)
    words = TEXT.map(lambda text: text[:longest])
    plain = {bool: st.booleans(), NoneType: st.none(), str: words, date: st.dates()}
    return plain[annotation] if annotation in plain else _number(field, annotation)


def _of_parts(annotation: Any, field: FieldInfo) -> st.SearchStrategy[Any]:  # noqa: ANN401 - as above
    if get_origin(annotation) is dict:  # its keys name circuits: who knows those fills it in
        return st.just({})
    if get_origin(annotation) is tuple:
        return st.lists(_value(get_args(annotation)[0], FieldInfo()), max_size=3)
    if "pattern" in repr(annotation):  # Annotated: an id, a date or a method
        return st.from_regex(r"[a-z0-9][a-z0-9_-]{0,8}", fullmatch=True)
    return _value(get_args(annotation)[0], field)


def _model(model: type[BaseModel]) -> st.SearchStrategy[dict[str, Any]]:
    required: dict[str, st.SearchStrategy[Any]] = {}
    optional: dict[str, st.SearchStrategy[Any]] = {}
    for name, field in model.model_fields.items():
        if name == "id" or (
            field.annotation is str and field.metadata and "pattern" in repr(field)
        ):
            strategy: st.SearchStrategy[Any] = st.from_regex(
                r"[a-z][a-z0-9_-]{0,8}", fullmatch=True
            )
        else:
            strategy = _value(field.annotation, field)
        (required if field.is_required() else optional)[name] = strategy
    return st.fixed_dictionaries(required, optional=optional)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Draw a job of any content that does not contradict itself."""
    data = draw(_model(Job))
    circuits = draw(st.lists(_model(Job.model_fields["circuits"].annotation.__args__[0]),  # type: ignore[union-attr]
                             min_size=1, max_size=3))  # fmt: skip
    data |= {"circuits": circuits, "schema_version": 1, "assumed": [], "demand_logged_source": "x"}
    data["wishes"] = {**data.get("wishes", {}), "keep_apart": [], "keep_together": []}
    for n, circuit in enumerate(circuits):
        _reconcile(circuit, n, data)
    data["wishes"]["ways"] = draw(st.sampled_from([{}, {circuits[0]["id"]: 3}]))
    for device in (data.get("existing_board") or {}).get("devices", ()):
        device["circuit"] = circuits[0]["id"]
        device["kind"] = "main switch"
        device.pop("feeds", None)
    if not data.get("existing_board"):
        data["wishes"]["board"] = "new"
    for key in ("lv_overhead_m", "lv_underground_m", "hv_overhead_m"):
        data["surge_environment"].pop(key, None)
    return Job.model_validate(data)


def _reconcile(circuit: dict[str, Any], number: int, data: dict[str, Any]) -> None:
    circuit["id"] = f"{circuit['id']}-{number}"
    for key in ("way", "ev", "source"):
        circuit.pop(key, None)
    if data["supply"].get("phases", 1) == 1:
        circuit["phases"], circuit["phase"] = 1, None
    circuit.get("readings", {}).pop("shares_neutral_with", None)
    for k, appliance in enumerate(circuit.get("appliances", ())):
        appliance["id"] = f"a{number}-{k}"
        appliance.pop("position_m", None)


@pytest.mark.slow
@SETTINGS
@given(job=jobs())
def test_a_job_saved_anew_reads_back_the_same(tmp_path: Path, job: Job) -> None:
    path = tmp_path / "new.yaml"
    path.unlink(missing_ok=True)

    save_job(job, path)

    assert read_job(path) == job


@pytest.mark.slow
@SETTINGS
@given(job=jobs(), base=st.sampled_from([HOME, starter(), HOME.replace("\n", "\r\n")]))
def test_any_job_can_be_saved_over_any_other(tmp_path: Path, job: Job, base: str) -> None:
    path = saved(tmp_path, base)

    save_job(job, path)

    assert read_job(path) == job


@pytest.mark.slow
@SETTINGS
@given(first=jobs(), second=jobs())
def test_a_file_changed_twice_says_the_last_job(tmp_path: Path, first: Job, second: Job) -> None:
    path = tmp_path / "twice.yaml"
    path.unlink(missing_ok=True)

    save_job(first, path)
    save_job(second, path)

    assert read_job(path) == second


SNIPPETS = st.sampled_from(
    ["- ", "a: ", ": ", "\n", "  ", "{", "}", "[", "]", "&a", "*a", "!t ", "!!int ", "|", ">-", "'",
     '"', "#", "%YAML 1.1\n", "---", "...", "? ", "<<: ", "\t", "0x1", "1e999", "~", "\u2028",
     "\x85", "\ufeff", "é", "circuits", "schema_version: 1\n", "supply: ", "2026-11-25",
     ",", "@", "`"]
)  # fmt: skip


def _lines(text: str) -> list[str]:
    """Return the lines with which a text is refused, or one for a job."""
    try:
        return [parse_job(text, "x.yaml").title]
    except BoardwrightError as error:
        return str(error).splitlines()


@settings(SETTINGS, max_examples=600)
@given(pieces=st.lists(SNIPPETS, max_size=25))
def test_rubbish_that_looks_like_yaml_earns_a_sentence(pieces: list[str]) -> None:
    assert 0 < len(_lines("".join(pieces))) <= 11


@pytest.mark.slow
@settings(SETTINGS, max_examples=300)
@given(at=st.integers(0, len(HOME)), size=st.integers(0, 30), piece=SNIPPETS | TEXT)
def test_a_home_with_one_piece_spoilt_is_a_job_or_earns_a_sentence(
    at: int, size: int, piece: str
) -> None:
    assert 0 < len(_lines(HOME[:at] + piece + HOME[at + size :])) <= 11


@SETTINGS
@given(content=st.binary(max_size=300))
def test_any_bytes_are_a_job_or_earn_a_sentence(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "bytes.yaml"
    path.write_bytes(content)

    with pytest.raises(BoardwrightError):
        read_job(path)


@SETTINGS
@given(data=st.recursive(st.none() | st.booleans() | st.floats() | TEXT,
                         lambda inner: st.lists(inner) | st.dictionaries(TEXT, inner)))  # fmt: skip
def test_a_model_takes_no_data_of_another_shape(data: object) -> None:
    with pytest.raises(ValidationError):
        Job.model_validate(data)
