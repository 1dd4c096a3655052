"""Pointers of what a document carries."""

from service.results.pointers import present_pointers
from service.results.visit import Visit
from service.schemas.documents import load


def test_members_parts_and_list_items():
    document = {
        "visit_date": "2026-06-01",
        "running": {"suction_pressure": 118},
        "complaint": {"symptoms": ["no_start"]},
        "electrical": {
            "windings": {"common_run": {"over_limit": True}},
            "run_capacitors": [{"serves": "compressor"}],
        },
    }
    assert present_pointers(load(Visit, document)) == {
        "/visit_date",
        "/running",
        "/running/suction_pressure",
        "/complaint",
        "/complaint/symptoms",
        "/electrical",
        "/electrical/windings",
        "/electrical/windings/common_run",
        "/electrical/run_capacitors",
        "/electrical/run_capacitors/0",
        "/electrical/run_capacitors/0/serves",
    }


def test_an_empty_document_has_none():
    assert present_pointers(Visit()) == frozenset()
