"""The commands on the demo: what they print is the documented object, and its figures hang together."""

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pypdfium2
import pytest

from oventide.forecast.model import Forecast
from oventide.services.answers import MakeUpAnswer, ReadAnswer, WeighAnswer

RUN = [sys.executable, "-c", "from oventide.cli.main import run; run()"]
MAKEUP = ["--sheet", "40x30cm", "--pieces", "12", "--tin", "rectangle:20x30cm"]


def answer(result) -> dict:
    assert result.exit_code == 0, (result.stderr, result.exception)
    assert "NaN" not in result.stdout
    assert "Infinity" not in result.stdout
    return json.loads(result.stdout)


class TestRead:
    @pytest.mark.parametrize("source", ["formula", "pasted"])
    def test_the_promised_form(self, call, source, request):
        found = answer(call("read", request.getfixturevalue(source), "--json"))
        ReadAnswer.model_validate(found)
        assert found["unread"] == []
        assert [component["name"] for component in found["components"]] == [
            "Sponge", "Dough", "Spread", "Filling", "Wash", "Topping", "Glaze",
        ]  # fmt: skip
        for component in found["components"]:
            for line in component["lines"]:
                assert {"text", "amount", "unit", "ingredient", "grams", "assumed"} <= set(line)
                assert line["ingredient"] is not None, line["text"]
                assert line["grams"]["low"] <= line["grams"]["likely"] <= line["grams"]["high"]

    def test_pasted_and_toml_say_the_same_lines(self, call, formula, pasted):
        one, other = (answer(call("read", path, "--json")) for path in (formula, pasted))
        for first, second in zip(one["components"], other["components"], strict=True):
            assert (first["name"], first["kind"]) == (second["name"], second["kind"])
            for line, same in zip(first["lines"], second["lines"], strict=True):
                # what was assumed differs: the pasted text does not say whose spoons it means
                assert line | {"assumed": ()} == same | {"assumed": ()}

    def test_standard_input(self, call, pasted):
        assert (
            answer(call("read", "-", "--json", stdin=pasted.read_text("utf-8")))["name"] == "Lantern Quay poppy coils"
        )

    def test_whose_spoons(self, call):
        text = "Dough\n500 g strong flour\n2 tbsp sugar\n300 g water\n"
        grams = {}
        for country in ("us", "metric", "au"):
            lines = answer(call("read", "-", "--json", "--spoons", country, stdin=text))["components"][0]["lines"]
            grams[country] = lines[1]["grams"]["likely"]
        # a US tablespoon is 14.787 mL, the metric one 15, the Australian one 20
        assert grams["au"] / grams["metric"] == pytest.approx(20 / 15, rel=1e-3)
        assert grams["us"] / grams["metric"] == pytest.approx(14.787 / 15, rel=1e-3)

    def test_for_people(self, call, pasted):
        result = call("read", pasted)
        assert result.exit_code == 0
        assert "zest of 1 lemon" in result.stdout


class TestWeigh:
    def test_lines_add_up_and_flour_is_100(self, call, formula):
        found = answer(call("weigh", formula, "--json"))
        WeighAnswer.model_validate(found)
        for component in found["components"]:
            known = [line["grams"] for line in component["lines"] if line["grams"] is not None]
            assert sum(known) == pytest.approx(component["grams"], abs=1e-6)
        flour = [
            line["baker_percent"]
            for component in found["components"][:2]
            for line in component["lines"]
            if line["ingredient"].startswith("flour")
        ]
        assert sum(flour) == pytest.approx(100.0, abs=0.01)
        split = found["totals"]["water_split"]
        assert sum(split.values()) == pytest.approx(found["totals"]["true_water_percent"], abs=0.05)
        assert found["totals"]["batch_g"] == pytest.approx(sum(c["grams"] for c in found["components"]))

    @pytest.mark.parametrize(
        ("options", "field", "value"),
        [
            (["--dough-g", "1500"], "dough_g", 1500),
            (["--flour-g", "1000"], "flour_g", 1000),
            (["--pieces", "30", "--piece-g", "60"], "dough_g", 1800),
        ],
    )
    def test_scaling_comes_to_what_was_asked(self, call, formula, options, field, value):
        found = answer(call("weigh", formula, *options, "--json"))
        assert found["totals"][field] == pytest.approx(value, rel=1e-4)
        assert f"× {found['factor']:.3g}" in found["scaled_by"]

    def test_percentages_do_not_scale(self, call, formula):
        one, other = (answer(call("weigh", formula, "--factor", x, "--json")) for x in ("1", "7.3"))
        for first, second in zip(one["components"], other["components"], strict=True):
            for line, larger in zip(first["lines"], second["lines"], strict=True):
                assert line["baker_percent"] == pytest.approx(larger["baker_percent"], abs=0.01)
                assert larger["grams_exact"] == pytest.approx(7.3 * line["grams_exact"], rel=1e-3, abs=1e-3)

    def test_the_kitchens_scale(self, call, formula, tmp_path):
        (tmp_path / "kitchen.toml").write_text("scale_step = 5\nfine_step = 0.5\nfine_below = 40\n")
        found = answer(call("weigh", formula, "--kitchen", tmp_path / "kitchen.toml", "--json"))
        for component in found["components"]:
            for line in component["lines"]:
                step = 0.5 if line["grams_exact"] < 40 else 5
                assert line["grams"] % step == pytest.approx(0, abs=1e-9) or line["grams"] % step == pytest.approx(step)

    def test_for_people(self, call, formula):
        result = call("weigh", formula, "--pieces", "24")
        assert result.exit_code == 0
        assert "true water" in result.stdout
        assert "24 pieces" in result.stdout


class TestMakeUp:
    def test_volumes_hold_together(self, call, formula):
        found = answer(call("makeup", formula, *MAKEUP, "--json"))
        MakeUpAnswer.model_validate(found)
        # dough density between what fresh dough can be, from the figures shown alone
        litres = found["sheet_length_mm"] * found["sheet_width_mm"] * found["thickness_mm"] / 1e6
        assert 1.0 < found["dough_g"] / 1000 / litres < 1.25
        assert found["log_length_mm"] == 400
        assert found["piece_height_mm"] == pytest.approx(400 / 12, abs=0.1)
        assert len(found["cut_marks_mm"]) == 11
        assert found["piece_g"] * 12 == pytest.approx(found["dough_g"] + found["spread_g"], rel=0.01)
        assert 0 < found["fill"]["before"] < found["fill"]["after_proof"] < found["fill"]["after_bake"]
        assert set(found["gaps"]) == {"neighbours_mm", "wall_mm", "pitch_mm"}
        assert all(picture.startswith("<svg") for picture in found["drawings"].values())

    def test_width_is_along_the_log(self, call, formula):
        wide = answer(call("makeup", formula, "--sheet", "45x25cm", "--json"))
        assert (wide["log_length_mm"], wide["sheet_length_mm"]) == (450, 250)

    def test_nine_in_a_square_tin(self, call, formula):
        found = answer(call("makeup", formula, "--sheet", "30x30cm", "--pieces", "9", "--tin", "square:20cm", "--json"))
        assert len(found["places"]) == 9
        assert found["tin"]["length_mm"] == 200

    def test_scaled_pieces_keep_thickness_and_height(self, call, formula):
        from oventide.services.making_up import make_up
        from oventide.services.reading import read_file
        from oventide.services.weighing import scaled, scaling_asked

        product = read_file(formula.read_text("utf-8"), formula.name)
        before = make_up(product, drawings=False)
        for pieces in (6, 9, 24):
            after = make_up(scaled(product, scaling_asked(pieces=pieces))[0], drawings=False)
            assert after.pieces == pieces
            assert after.thickness_mm == pytest.approx(before.thickness_mm, rel=0.005)
            assert after.piece_height_mm == pytest.approx(before.piece_height_mm, rel=0.005)
            assert after.piece_g == pytest.approx(before.piece_g, rel=0.005)


class TestForesee:
    def test_the_promised_form_and_the_same_answer_twice(self, call, formula, kitchen):
        options = ["--kitchen", kitchen, "--ready-by", "09:30", "--members", "16", "--seed", "7", "--json"]
        one, other = call("foresee", formula, *options), call("foresee", formula, *options)
        found = answer(one)
        assert one.stdout == other.stdout
        Forecast.model_validate(found)
        assert found["seed"] == 7
        assert [step["kind"] for step in found["steps"]][:4] == ["mix", "bulk", "retard", "sheet"]
        for step in found["steps"]:
            for window in (step["start"], step["end"]):
                assert window["earliest_min"] <= window["likely_min"] <= window["latest_min"]
            for reading in step["readings"]:
                assert reading["p5"] <= reading["p50"] <= reading["p95"]
                assert reading["because"]

    def test_another_seed_is_another_ensemble(self, call, formula, kitchen):
        first, second = (
            call("foresee", formula, "--kitchen", kitchen, "--members", "16", "--seed", seed, "--json").stdout
            for seed in "12"
        )
        assert first != second


class TestSheet:
    @pytest.mark.parametrize(("paper", "width"), [("a4", 210.0), ("letter", 215.9)])
    def test_one_page_with_every_weight(self, call, formula, kitchen, tmp_path, paper, width):
        path = tmp_path / "sheet.pdf"
        options = ["--kitchen", kitchen, "--ready-by", "09:30", "--members", "16", "--paper", paper, "-o", path]
        result = call("sheet", formula, *options)
        assert result.exit_code == 0, (result.stderr, result.exception)
        assert result.stdout == ""
        document = pypdfium2.PdfDocument(path)
        assert len(document) == 1
        assert document[0].get_size()[0] / 72 * 25.4 == pytest.approx(width, abs=0.1)
        text = " ".join(document[0].get_textpage().get_text_range().replace("\u00a0", " ").split())
        for component in answer(call("weigh", formula, "--kitchen", kitchen, "--json"))["components"]:
            assert component["name"] in text
            for line in component["lines"]:
                shown = line["grams"]
                assert (f"{shown:.1f} g" if shown < 20 and shown != round(shown) else f"{shown:.0f} g") in text
        for words in ("Lantern Quay poppy coils", "09:30", "Make the sponge", "Bake open", "core 93 °C", "contains"):
            assert words in text

    def test_ounces_beside_grams(self, call, formula, kitchen, tmp_path):
        path = tmp_path / "sheet.pdf"
        call("sheet", formula, "--kitchen", kitchen, "--members", "16", "--units", "us", "-o", path)
        text = pypdfium2.PdfDocument(path)[0].get_textpage().get_text_range()
        assert "9.5 oz" in text  # 270 g / 28.3495
        assert "270 g" in text

    def test_ruler(self, call, formula, tmp_path):
        path = tmp_path / "ruler.pdf"
        assert call("ruler", formula, *MAKEUP, "-o", path).exit_code == 0
        assert "must be 100 mm long" in pypdfium2.PdfDocument(path)[0].get_textpage().get_text_range()


def test_demo_writes_files_that_read_back(call, tmp_path):
    result = call("demo", tmp_path / "new")
    assert result.exit_code == 0
    written = sorted(path.name for path in (tmp_path / "new").iterdir())
    assert written == ["lantern-quay-kitchen.toml", "lantern-quay-poppy-coils.toml", "lantern-quay-poppy-coils.txt"]
    assert answer(call("read", tmp_path / "new" / written[1], "--json"))["unread"] == []


def test_a_stored_name(call, formula):
    from oventide.services.reading import read_file
    from oventide.services.shelf import Shelf

    Shelf.at().save_product(read_file(formula.read_text("utf-8"), formula.name))
    found = answer(call("weigh", "Lantern Quay poppy coils", "--json"))
    assert found == answer(call("weigh", formula, "--json"))


def test_version(call):
    assert call("--version").stdout.startswith("oventide 0.")


def test_a_fault_of_the_program_is_told_without_a_traceback(call, formula, monkeypatch):
    import oventide.services.reading

    def broken(product):
        raise KeyError("gone")

    monkeypatch.setattr(oventide.services.reading, "read_answer", broken)
    result = call("read", formula)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert "fault of Oventide itself" in result.stderr
    assert "Traceback" not in result.stderr


class TestRealProcesses:
    def test_help_comes_within_a_second(self):
        times = []
        for _ in range(3):
            begun = time.perf_counter()
            ended = subprocess.run([*RUN, "--help"], capture_output=True, text=True, check=False)
            times.append(time.perf_counter() - begun)
            assert ended.returncode == 0
        assert "foresee" in ended.stdout
        assert min(times) < 1.0

    def test_refusal_in_a_pipe(self, tmp_path):
        environment = os.environ | {"OVENTIDE_HOME": str(tmp_path)}
        ended = subprocess.run(
            [*RUN, "weigh", "-", "--json"],
            input="nothing here",
            capture_output=True,
            text=True,
            check=False,
            env=environment,
        )
        assert (ended.returncode, ended.stdout) == (2, "")
        assert "Traceback" not in ended.stderr

    def test_a_reader_that_goes_away(self, formula):
        command = subprocess.Popen(
            [*RUN, "read", str(formula), "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        assert command.stdout is not None
        command.stdout.close()
        assert command.stderr is not None
        assert b"Traceback" not in command.stderr.read()
        command.stderr.close()
        command.wait(timeout=60)

    def test_ctrl_c_ends_with_130(self):
        # a test run in the background is started with Ctrl-C ignored, and children inherit that: set it back first
        script = (
            "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); "
            "from oventide.cli.main import run; print('ready', flush=True); run()"
        )
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        command = subprocess.Popen([sys.executable, "-c", script, "read", "-"], **pipes)
        assert command.stdout is not None
        assert command.stdout.readline() == b"ready\n"
        # Python drops an interrupt that falls into a clean-up while modules load: a person presses again
        for _ in range(60):
            time.sleep(0.5)
            command.send_signal(signal.SIGINT)
            with contextlib.suppress(subprocess.TimeoutExpired):
                command.wait(timeout=0.5)
                break
        _, errors = command.communicate(timeout=60)
        assert command.returncode == 130
        assert b"Traceback" not in errors

    def test_unwritable_folder_leaves_no_half_file(self, tmp_path, formula):
        target = tmp_path / "none" / "ruler.pdf"
        ended = subprocess.run(
            [*RUN, "ruler", str(formula), "-o", str(target)], capture_output=True, text=True, check=False
        )
        assert ended.returncode == 2
        assert list(Path(tmp_path).rglob("*.p*")) == []
