"""Livewell and limit: counts are right, cautions come at the published figures."""

from __future__ import annotations

from leadsman.waterlog.events import Body, Event, Fish, FishFate, TripStart, WaterReading
from leadsman.waterlog.fish_care import Livewell, livewell
from leadsman.waterlog.timeline import timeline

T0 = 1.7e9


def well(*bodies: Body, hours: float = 1.0) -> Livewell:
    events = [
        Event(f"phone-{n:06d}", "t", "phone", n, T0 + n, body) for n, body in enumerate(bodies)
    ]
    return livewell(timeline(events), T0 + 3600.0 * hours)


def test_culling_makes_room() -> None:
    got = well(
        TripStart("pond", limit_fish=2),
        Fish(fate="kept"),
        Fish(fate="kept", weight_kg=1.4),
        Fish(fate="released"),
        FishFate("phone-000001", "culled"),
    )
    assert [k.id for k in got.kept] == ["phone-000002"]
    assert got.room == 1
    assert any("local rules" in c for c in got.cautions)


def test_too_many_kept_is_said_first() -> None:
    got = well(TripStart("pond", limit_fish=1), Fish(fate="kept"), Fish(fate="kept"))
    assert got.room == -1 and "limit" in got.cautions[0]


def test_cautions_at_published_figures() -> None:
    # Oxygen at least 5.5 mg/L, at most 29 degC: habitat suitability reports and Brungs & Jones
    # 1977. Pressure injury typical from deeper than 6 m, venting not advised: Elliott et al. 2021.
    poor = well(Fish(fate="kept"), WaterReading(29.5, oxygen_mg_l=5.4, in_livewell=True))
    assert any("5.5 mg/L" in c for c in poor.cautions) and any("29" in c for c in poor.cautions)
    fine = well(Fish(fate="kept"), WaterReading(28.5, oxygen_mg_l=5.6, in_livewell=True))
    assert len(fine.cautions) == 1
    lake = well(Fish(fate="kept"), WaterReading(31.0, oxygen_mg_l=2.0))
    assert len(lake.cautions) == 1  # the lake's reading is not the livewell's
    deep = well(Fish(fate="kept", caught_depth_m=7.0))
    assert any("venting is not advised" in c for c in deep.cautions)
    assert len(well(Fish(fate="kept", caught_depth_m=5.5)).cautions) == 1


def test_an_empty_livewell_has_nothing_to_say() -> None:
    assert well(Fish(fate="released")).cautions == ()
    assert well(TripStart("pond", limit_fish=5)).room == 5
