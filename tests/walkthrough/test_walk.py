"""python -m service try: a visit typed at the prompt, asked in the order of the service, up to the verdict."""

import io

import pytest

from service.__main__ import main as command
from service.knowledge.readings import reading_rows
from service.workshop.walkthrough import Walk, answer, main
from service.workshop.walkthrough.pointers import absent, declared_at, place

QUESTIONS = {
    "What does the customer report?": "hums_no_start",
    "Which refrigerant is in the unit": "410a",
    "What meters the refrigerant?": "3",
    "Which target subcooling": "10",
    "How is the compressor motor fed?": "single_phase",
}
DEAD = {
    "The disconnect is open and locked.": "yes",
    "The meter was proved on a live source before": "yes",
    "Line 1 to line 2.": "0",
    "Line 1 to ground.": "0",
    "Line 2 to ground.": "0",
    "Volts left across the run capacitor.": "0",
    "The meter was proved on a live source after": "yes",
}
CAPACITOR = {
    "Run capacitors, one item a section.": "1",
    "Label capacitance.": "45",
    "Label tolerance": "6",
    "Measured on the bench": "30.1",
    "Which motor it serves.": "compressor",
}
WINDINGS = {"Common to run.": "0.9", "Common to start.": "2.8", "Run to start.": "3.7"}
SHELL = {"Common to shell.": "OL", "Run to shell.": "OL", "Start to shell.": "OL"}


class Technician:
    """Answers by the question; whatever is not known is not taken."""

    def __init__(self, known: dict[str, str]) -> None:
        self.known = known
        self.prompts: list[str] = []

    def __call__(self, prompt: str = "") -> str:
        self.prompts.append(prompt.strip())
        for question, said in self.known.items():
            if question in prompt:
                return said
        return ""


def walked(monkeypatch, capsys, known, arguments=()):
    """What was asked, and what was printed."""
    technician = Technician(known)
    monkeypatch.setattr("builtins.input", technician)
    assert main(list(arguments)) == 0
    return technician.prompts, capsys.readouterr().out


def by_description(known):
    """The questions of the beginning are titles; their prompts are the descriptions of the members."""
    words = {
        "What does the customer report?": "What the customer reports.",
        "Which refrigerant is in the unit": "ASHRAE 34 designation of what is in the unit now",
        "What meters the refrigerant?": "What meters the refrigerant into the evaporator.",
        "Which target subcooling": "Nameplate target subcooling.",
        "How is the compressor motor fed?": "How its motor is fed.",
    }
    return {words.get(question, question): said for question, said in known.items()}


def test_a_weak_capacitor_is_found_and_dead_is_proven_first(monkeypatch, capsys):
    prompts, said = walked(
        monkeypatch, capsys, by_description({**QUESTIONS, **DEAD, **CAPACITOR, **WINDINGS, **SHELL})
    )
    locked = next(i for i, prompt in enumerate(prompts) if prompt.startswith("The disconnect is open"))
    dead = [i for i, prompt in enumerate(prompts) if prompt.startswith(("Run capacitors", "Common to", "Run to"))]
    assert dead
    assert locked < min(dead)
    assert "Verdict: Fault found." in said
    assert said.index("Verdict:") < said.index("Causes") < said.index("Next steps")
    assert "Compressor run capacitor failed" in said.split("Causes")[1].splitlines()[1]


def test_a_grounded_winding_stops_the_walk_and_nothing_asks_for_power(monkeypatch, capsys):
    grounded = {**SHELL, "What the customer reports.": "breaker_trips", "Common to shell.": "1200"}
    prompts, said = walked(monkeypatch, capsys, {**by_description({**QUESTIONS, **DEAD}), **grounded})
    assert "HOLD: Motor winding may be grounded" in said
    assert "Verdict: Unsafe. Keep it OFF." in said
    assert "[power on]" not in said.split("Verdict:")[1]
    live = {pointer for row in reading_rows().values() if row.power == "on" for pointer in row.pointers}
    after = prompts[next(i for i, prompt in enumerate(prompts) if prompt.startswith("Common to shell")) + 1 :]
    described = {declared_at(pointer).description for pointer in live}
    assert not [prompt for prompt in after if any(prompt.startswith(text) for text in described)]


def test_nothing_read_ends_by_itself_with_a_verdict(monkeypatch, capsys):
    prompts, said = walked(monkeypatch, capsys, {})
    assert len(prompts) < 60
    assert "Verdict: More readings needed." in said


def test_the_end_of_the_input_is_the_end_of_the_readings(monkeypatch, capsys):
    monkeypatch.setattr("sys.stdin", io.StringIO("not_cooling\nR-32\n"))
    assert command(["try"]) == 0
    said = capsys.readouterr().out
    assert "Verdict:" in said
    assert said.count("Type a reading") == 1


def test_done_ends_at_once(monkeypatch, capsys):
    prompts, said = walked(monkeypatch, capsys, {"What the customer reports.": "done"})
    assert len(prompts) == 1
    assert "Verdict:" in said


class Script:
    """Answers one after another, then stops."""

    def __init__(self, *said: str) -> None:
        self.said = list(said)

    def __call__(self, _: str = "") -> str:
        if not self.said:
            raise EOFError
        return self.said.pop(0)


@pytest.mark.parametrize(
    ("pointer", "said", "told"),
    [
        ("/complaint/symptoms", "howling", "Type a number from 1 to"),
        ("/isolation/disconnect_locked", "perhaps", "Type yes or no."),
        ("/running/suction_pressure", "118 psi", "Type a number"),
        ("/running/suction_pressure", "99999", "Must be up to 2886 psig"),
        ("/equipment/refrigerant", "R-999", "R-999"),
        ("/electrical/run_capacitors", "9", "Type a whole number, up to 6."),
        ("/electrical/run_capacitors", "1.5", "Type a whole number, up to 6."),
        ("/visit_date", "yesterday", "YYYY-MM-DD"),
    ],
)
def test_what_cannot_be_read_is_said_and_asked_again(monkeypatch, capsys, pointer, said, told):
    monkeypatch.setattr("builtins.input", Script(said, "?", ""))
    walk = Walk({"units": {}})
    walk.ask(pointer, "A question", "A reason.")
    printed = " ".join(capsys.readouterr().out.split())
    assert told in printed
    assert "A reason." in printed
    assert walk.document == {"units": {}}


@pytest.mark.parametrize(
    ("pointer", "said", "value"),
    [
        ("/complaint/symptoms", "1, no_start", ["not_cooling", "no_start"]),
        ("/equipment/phases", "3", 3),
        ("/equipment/year_made", "2015", 2015),
        ("/equipment/circuit", "A", "A"),
        ("/electrical/windings/common_run", "ol", {"over_limit": True}),
        ("/electrical/windings/lead_ohms", "0.2", {"ohms": 0.2}),
        ("/electrical/insulation/common_to_shell", "500 M", {"megohms": 500.0}),
        ("/electrical/insulation/common_to_shell", "1200", {"ohms": 1200.0}),
        ("/isolation/disconnect_locked", "n", False),
        ("/visit_date", "2026-07-15", "2026-07-15"),
    ],
)
def test_what_is_typed_becomes_the_member(monkeypatch, pointer, said, value):
    monkeypatch.setattr("builtins.input", Script(said))
    walk = Walk({"units": {}})
    walk.ask(pointer, "A question", "")
    found = walk.document
    for name in pointer.split("/")[1:]:
        found = found[name]
    assert found == value


def test_si_units_are_asked_and_answered(monkeypatch, capsys):
    known = by_description({**QUESTIONS, "Which target subcooling": "5.5"})
    prompts, _ = walked(monkeypatch, capsys, known, ["--units", "si"])
    assert any("[°C]" in prompt for prompt in prompts)


def test_pointers():
    document = place({}, "/running/suction_pressure", 118.0)
    assert document == {"running": {"suction_pressure": 118.0}}
    assert not absent(document, "/running/suction_pressure")
    assert absent(document, "/running/liquid_pressure")
    assert absent(document, "/air/airflow")
    assert declared_at("/running/suction_pressure").kind == "pressure"
    with pytest.raises(KeyError):
        declared_at("/running/nothing")


def test_the_walk_says_what_the_service_says():
    document = {"complaint": {"symptoms": ["no_start"]}}
    assert answer(document)["outcome"]["state"] == "undecided"


class TwoRounds(Technician):
    """Puts a new capacitor in after the first verdict."""

    def __call__(self, prompt: str = "") -> str:
        if prompt.strip().startswith("Repaired, and ready"):
            self.known["Measured on the bench"] = "44.8"
            return "yes"
        return super().__call__(prompt)


def test_the_round_after_the_repair(monkeypatch, capsys):
    """A capacitor of 45 uF that read 30.1 reads 44.8 after it was renewed: its fault is gone."""
    technician = TwoRounds(by_description({**QUESTIONS, **DEAD, **CAPACITOR, **WINDINGS, **SHELL}))
    monkeypatch.setattr("builtins.input", technician)
    assert main([]) == 0
    said = capsys.readouterr().out
    first, after = said.split("After the repair")
    assert "Compressor run capacitor failed" in first
    assert sum(prompt.startswith("Run capacitors") for prompt in technician.prompts) == 2
    locked = [at for at, prompt in enumerate(technician.prompts) if prompt.startswith("The disconnect is open")]
    assert len(locked) == 2
    assert '"measured_microfarads": 44.8' in after


def test_back_takes_the_last_answer_out(monkeypatch):
    walk = Walk({"units": {}})
    monkeypatch.setattr("builtins.input", Script("not_cooling", "back", "no_start", "done"))
    walk.run()
    assert walk.document["complaint"]["symptoms"] == ["no_start"]


def test_back_at_the_first_question_asks_it_again(monkeypatch, capsys):
    walk = Walk({"units": {}})
    monkeypatch.setattr("builtins.input", Script("back", "no_start", "done"))
    walk.run()
    assert "This is the first question." in capsys.readouterr().out
    assert walk.document["complaint"]["symptoms"] == ["no_start"]


@pytest.mark.parametrize(
    ("said", "asked_again"), [(("105", "55"), True), (("105", "105"), True), (("62",), False)]
)
def test_a_likely_slip_is_asked_once_more(monkeypatch, capsys, said, asked_again):
    """Suction lines of comfort cooling stand at 40 to 75 F (common practice, no source): 105 F is a slip first."""
    walk = Walk({"units": {}})
    monkeypatch.setattr("builtins.input", Script(*said))
    walk.ask("/running/suction_line_temperature", "Suction line", "")
    assert walk.document["running"]["suction_line_temperature"] == float(said[-1])
    assert ("is unusual here" in capsys.readouterr().out) == asked_again


@pytest.mark.parametrize("content", ["no json", "[]", '{"asked": []}'])
def test_a_file_that_is_no_stopped_visit_is_said(tmp_path, capsys, content):
    file = tmp_path / "other.json"
    file.write_text(content)
    assert main(["--file", str(file)]) == 2
    assert "is not a visit that was stopped" in " ".join(capsys.readouterr().out.split())


def test_a_procedure_is_stopped_and_gone_on_with(monkeypatch, capsys, tmp_path):
    """250 to 260 micron in 15 min holds (common practice, no source)."""
    file = tmp_path / "hold.json"
    monkeypatch.setattr("builtins.input", Script("", "", "75", "", "0", "250", "stop"))
    assert main(["evacuation", "--file", str(file)]) == 0
    monkeypatch.setattr("builtins.input", Script("15", "260", ""))
    assert main(["--file", str(file)]) == 0
    assert "dry and tight" in " ".join(capsys.readouterr().out.split())


def test_a_cylinder_in_the_terminal(monkeypatch, capsys):
    """40 lb of room in a 47.7 lb cylinder: 80 % of its volume at 77 F (AHRI Guideline K), less what is in it."""
    said = ("2026-06-01", "R-410A", "8", "1", "47.7", "28", "28.5", "empty", "2023-05-01", "400")
    monkeypatch.setattr("builtins.input", Script(*said))
    assert main(["recovery"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "You can use this cylinder" in told
    assert "Water capacity (WC) stamped on the cylinder." in told
    assert '"mass": "lb"' in told


def test_what_decides_and_was_not_asked_is_asked_at_the_end(monkeypatch, capsys):
    """A flammable charge is not weighed in before the room, the mounting and the mitigation were told."""
    known = ("R-32", "1", "96", "15", "40", "0.375", "0.75")
    monkeypatch.setattr("builtins.input", Script(*known, "", "", ""))
    assert main(["weighed-charge"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Do not weigh it in before the room check passes" in told
    assert "Still open" in told
    monkeypatch.setattr("builtins.input", Script(*known, "1200", "4", "1"))
    assert main(["weighed-charge"]) == 0
    assert "Weigh in the charge." in " ".join(capsys.readouterr().out.split())


def test_additions_without_a_reason_are_leaks(monkeypatch, capsys):
    """10 lb of 80 in 31 days is above 10 percent a year (40 CFR 82.157); 30 days from the addition."""
    said = ("2026-06-01", "R-22", "80", "comfort cooling", "2026-05-01", "", "2026-06-01", "10", "", "", "")
    monkeypatch.setattr("builtins.input", Script(*said))
    assert main(["leak-rate"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Repair it by 2026-07-01" in told
    assert "`" not in told.split("The document")[0]
