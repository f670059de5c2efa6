"""The tables' version: asked with one query, changed only step by step."""

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event, text, update
from sqlalchemy.exc import DBAPIError

from boardwright.store import schema
from boardwright.store.engine import make_engine
from boardwright.store.errors import SchemaError
from boardwright.store.guards import REFUSAL
from boardwright.store.photos import Photo
from boardwright.store.place import store_url
from boardwright.store.store import open_store
from boardwright.store.tables import metadata
from tests.habits.source import ROOT
from tests.store.home import TEXT, clashed, reading, stamp, with_ze
from tests.store.test_guards import CHANGES


def test_a_store_that_is_up_to_date_is_asked_once(place: str) -> None:
    open_store(place).close()
    engine = make_engine(store_url(place))
    asked: list[str] = []
    event.listen(engine, "before_cursor_execute", lambda *seen: asked.append(seen[2]))

    schema.bring_up_to_date(engine)

    assert [sql for sql in asked if not sql.startswith("BEGIN")] == [
        "SELECT version_num FROM boardwright_schema"
    ]
    engine.dispose()


@pytest.mark.slow
def test_alembic_is_loaded_only_to_change_tables(tmp_path: Path) -> None:
    code = (
        "import sys; from boardwright.store.store import open_store;"
        f" open_store({str(tmp_path / 'jobs.db')!r}); print('alembic' in sys.modules)"
    )

    said = [
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            cwd=ROOT,
            env={"PYTHONPATH": "src"},
        ).stdout.strip()
        for _ in range(2)
    ]

    assert said == ["True", "False"]


def test_the_steps_lead_to_the_tables_that_the_program_knows(place: str) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    open_store(place).close()
    engine = make_engine(store_url(place))

    with engine.connect() as connection:
        options = {"version_table": schema.VERSION_TABLE, "compare_type": True}
        context = MigrationContext.configure(connection, opts=options)
        assert compare_metadata(context, metadata) == []
    engine.dispose()


def test_the_last_step_is_the_one_the_program_asks_for() -> None:
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", "boardwright.store:migrations")
    steps = [step.revision for step in ScriptDirectory.from_config(config).walk_revisions()]

    assert steps[0] == schema.HEAD
    assert sorted(steps, reverse=True) == steps
    assert all(step.isdecimal() for step in steps)


@pytest.mark.parametrize("found", ["0003", "a-branch"])
def test_a_newer_programs_tables_are_left_alone(place: str, found: str) -> None:
    open_store(place).close()
    engine = make_engine(store_url(place))
    with engine.begin() as connection:
        connection.execute(text("UPDATE boardwright_schema SET version_num = :to"), {"to": found})

    with pytest.raises(SchemaError, match=f"version {found}, .* written by a newer program"):
        open_store(place)

    with engine.begin() as connection:
        assert connection.execute(text("SELECT version_num FROM boardwright_schema")).scalar() == (
            found
        )
    engine.dispose()


def test_another_programs_tables_are_left_alone(place: str) -> None:
    engine = make_engine(store_url(place))
    with engine.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE invoices (id INTEGER)")

    with pytest.raises(SchemaError, match="tables of another program"):
        open_store(place)

    with engine.begin() as connection:
        names = engine.dialect.get_table_names(connection)
    assert names == ["invoices"]
    engine.dispose()


def test_a_step_that_rebuilds_a_table_keeps_every_row_and_the_guards(
    place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = open_store(place)
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    clashed(store.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))
    store.add_events("number-7", [reading(1)])
    store.add_photo("number-7", Photo("image/png", b"x"), reading(2))
    before = [store.history("number-7"), store.conflicts("number-7"), store.events("number-7")]
    store.close()

    _with_a_next_step(tmp_path, monkeypatch)
    store = open_store(place)

    assert before == [
        store.history("number-7"),
        store.conflicts("number-7"),
        store.events("number-7"),
    ]
    with store._engine.begin() as connection:
        assert connection.execute(text("SELECT note FROM jobs")).scalars().all() == ["none"]
    for table, column in CHANGES.items():
        with pytest.raises(DBAPIError, match=REFUSAL), store._engine.begin() as connection:
            connection.execute(update(metadata.tables[table]).values({column: "x"}))
    store.close()


def _with_a_next_step(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Add a step that makes each table anew, as a later program would."""
    (folder / "v0003.py").write_text(
        "import sqlalchemy as sa\n"
        "from alembic import op\n"
        "revision, down_revision = '0003', '0002'\n"
        "branch_labels = depends_on = None\n"
        "def upgrade():\n"
        "    columns = {'jobs': 'file', 'versions': 'why', 'asides': 'why', 'events': 'who'}\n"
        "    for name, column in columns.items():\n"
        "        with op.batch_alter_table(name) as table:\n"
        "            table.add_column(sa.Column('note', sa.Text, server_default='none'))\n"
        "            table.alter_column(column, type_=sa.Text)\n"
    )
    from alembic.config import Config

    plain = Config.set_main_option

    def set_main_option(config: Config, name: str, value: str) -> None:
        plain(config, name, value)
        own = ROOT / "src/boardwright/store/migrations/versions"
        plain(config, "path_separator", "os")
        plain(config, "version_locations", f"{own}:{folder}")

    monkeypatch.setattr(Config, "set_main_option", set_main_option)
    monkeypatch.setattr(schema, "HEAD", "0003")
    walk: Any = schema.walk
    monkeypatch.setattr(schema, "walk", lambda connection: walk(connection, "0003"))
