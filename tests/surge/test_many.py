"""Many surges as chance has them: repeatable, and each the surge it says it is."""

import json

import numpy as np
import pytest

from boardwright.core.errors import FieldError
from boardwright.surge.elements import Generator, VoltageSource
from boardwright.surge.many import MAINS_CREST_V, SIZE_SPREAD, many_surges, on_the_mains
from boardwright.surge.one_surge import RepeatedSurge
from boardwright.surge.prepare import Watch
from tests.surge.rig import BUS, FAR, generator, net, single, spd, three_core_home

END_S = 5e-6


def test_the_same_seed_draws_the_same_surges() -> None:
    network = net(generator(), *spd())
    told: list[int] = []
    first = many_surges(network, 40, END_S, seed=3, progress=told.append)
    again = many_surges(network, 40, END_S, seed=3)
    other = many_surges(network, 40, END_S, seed=4)

    assert np.array_equal(first.peaks.volts, again.peaks.volts)
    assert not np.array_equal(first.peaks.volts, other.peaks.volts)
    assert told == sorted(told)
    assert told[-1] == 40


def test_each_is_one_surge_of_the_stated_distributions() -> None:
    network = three_core_home(to_earth=True)
    many = many_surges(network, 3, END_S, seed=7)
    draw = np.random.default_rng(7)
    size = float(np.exp(draw.normal(0.0, SIZE_SPREAD, 3))[2])
    angle = float(np.sin(draw.uniform(0.0, 2 * np.pi, 3))[2])
    watch = Watch(tuple((node, network.reference) for node in network.nodes))
    one = RepeatedSurge(on_the_mains(network), watch, END_S, most_ratio=size)

    assert many.peaks.volts[2] == pytest.approx(one.solve(size, angle).volts, rel=1e-9)


def test_the_mains_stand_in_series_with_the_generator() -> None:
    network = on_the_mains(net(generator(), single("cable", BUS, FAR, 10.0)))
    (source,) = [item for item in network.elements if isinstance(item, VoltageSource)]
    (surge,) = [item for item in network.elements if isinstance(item, Generator)]
    # Without a surge, an open line stands at the mains' crest: Kirchhoff's voltage law.
    watch = Watch(((FAR, network.reference),))
    quiet = RepeatedSurge(network, watch, END_S).solve(0.0, 1.0)

    assert surge.minus == source.plus
    assert quiet.volts[0] == pytest.approx(MAINS_CREST_V, rel=1e-3)


def test_what_is_printed_says_how_it_was_drawn() -> None:
    many = many_surges(net(generator(), *spd()), 20, END_S, seed=1)
    data = json.loads(many.data())

    assert "20 surges, seed 1" in many.text()
    for row in data["nodes"].values():
        assert row["p5_v"] <= row["p50_v"] <= row["p95_v"] <= row["highest_v"]


@pytest.mark.parametrize(("times", "seed", "field"), [(0, 1, "times"), (5, -1, "seed")])
def test_no_surges_and_no_seed_are_refused(times: int, seed: int, field: str) -> None:
    with pytest.raises(FieldError, match=field):
        many_surges(net(generator()), times, END_S, seed=seed)
