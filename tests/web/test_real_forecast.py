"""The tide and the sheet on the real kernel: slow, since it may have to be compiled first."""

import re

import pytest

from oventide.web.app import create_app
from oventide.web.plan import MEMBERS, SEED


@pytest.mark.slow
def test_the_demo_s_tide_and_sheet_are_the_kernel_s_own(demo) -> None:
    from starlette.testclient import TestClient

    app = create_app("sqlite://")
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    client = TestClient(app, base_url="http://127.0.0.1:8711")
    address = "/formulas/lantern-quay-poppy-coils"
    forecast = app.state.forecasts.of(demo[0], demo[1], "07:30", SEED, MEMBERS)
    page = client.get(f"{address}/tide?ready_by=07%3A30")
    assert page.status_code == 200, page.text[-1500:]
    assert page.text.count('class="tc-median"') >= 3
    for step in forecast.steps:
        for reading in step.readings:
            assert reading.because.split(".")[0].replace("'", "&#39;") in page.text
    clocks = re.findall(r'<span class="clock">(\d\d:\d\d)', page.text)
    assert len(clocks) == len(forecast.steps)
    assert clocks[0] == forecast.steps[0].start_clock[:5]
    sheet = client.get(f"{address}/sheet?ready_by=07%3A30")
    assert forecast.steps[0].start_clock[:5] in sheet.text
    assert client.get(f"{address}/sheet.pdf?ready_by=07%3A30").content.startswith(b"%PDF")
