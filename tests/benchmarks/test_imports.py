"""What serves the hot endpoints loads none of the slow libraries: property library, scipy, matplotlib, pandas."""

import json
import subprocess
import sys

SLOW = ("CoolProp", "scipy", "matplotlib", "pandas")
SCRIPT = """
import json, sys
from service.app import create_app
from service.workshop.benchmarking import questions
from service.wire.warm import warm_up

warm_up()
client = create_app().test_client()
points = [questions.saturation("R-454B", 40), questions.saturation("R-410A")]
statuses = [
    client.post(question.path, data=question.body, content_type=question.media_type).status_code
    for question in (*points, questions.assessment(), questions.batch(2))
]
print()
print(json.dumps({"statuses": statuses, "loaded": sorted({name.split(".")[0] for name in sys.modules})}))
"""


def test_hot_endpoints_load_no_slow_library():
    done = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True, timeout=120, check=True)
    found = json.loads(done.stdout.splitlines()[-1])
    assert found["statuses"] == [200] * 4
    assert [name for name in SLOW if name in found["loaded"]] == []
