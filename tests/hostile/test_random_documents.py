"""Documents of possible readings that are absurd together: never a crash, never NaN, always as documented.

For longer: .venv/bin/python -m tests.hostile.test_random_documents 600 [seed]
"""

import json
import random
import sys
import time

import pytest

from service.app import create_app
from service.workshop.specification.operation import operations
from tests.hostile.documents import document

POSTS = [item for item in operations() if item.request is not None]
DOCUMENTS = 40


def refuse_constant(name):
    raise AssertionError(f"{name} in an answer")


def offer(client, operation, chance):
    """Post one document; the answer is one of the two that are documented for it."""
    body = document(operation.request, chance)
    response = client.post(operation.path, json=body)
    assert response.status_code in (200, 422), json.dumps(body)
    if response.mimetype.endswith("json"):
        json.loads(response.get_data(), parse_constant=refuse_constant)
    return response.status_code


@pytest.mark.parametrize("operation", POSTS, ids=lambda item: item.operation_id)
def test_it_is_judged_or_refused(operation):
    client, chance = create_app().test_client(), random.Random(operation.path)
    answered = {offer(client, operation, chance) for _ in range(DOCUMENTS)}
    assert 200 in answered


def main(seconds, seed):
    """Go on for so many seconds."""
    client, chance, count = create_app().test_client(), random.Random(seed), 0
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        offer(client, chance.choice(POSTS), chance)
        count += 1
    print(f"{count} documents", file=sys.stderr)


if __name__ == "__main__":
    main(float(sys.argv[1]), int(sys.argv[2]) if sys.argv[2:] else 1)
