"""TypeScript: the sample client with types by openapi-typescript, and a client by @hey-api/openapi-ts."""

import shutil

import pytest

from tests.clients.conftest import CONTRACT, ROOT, run

VISITS = ROOT / "samples" / "visits"
STRICT = ["--noEmit", "--strict", "--skipLibCheck", "--target", "es2022", "--module", "esnext"]
RESOLVED = ["--moduleResolution", "bundler", "--types", "node"]
USE = """
import { readFileSync } from "node:fs";
import { client } from "./made/client.gen";
import { assessVisit, getSaturationTable } from "./made/sdk.gen";
import type { Visit } from "./made/types.gen";

const [address = "", file = ""] = process.argv.slice(2);
client.setConfig({ baseUrl: address });
const body = JSON.parse(readFileSync(file, "utf8")) as Visit;
const { data } = await assessVisit({ body });
console.log(data?.outcome.state, data?.holds[0]?.code, data?.next_steps.some((step) => step.power === "on"));
const { error } = await assessVisit({ body: { equipment: { refrigerant: "R-999" } } });
console.log(error?.status, error?.errors[0]?.pointer);
const query = { lowest: 40, highest: 50, step: 10 };
const table = await getSaturationTable({ path: { designation: "R-32" }, query });
console.log(typeof table.data === "object" ? table.data.rows.length : 0);
"""


@pytest.fixture(scope="module")
def sample(node_tools):
    """The sample as an integrator has it, with the tools of the tests."""
    folder = node_tools / "samples" / "typescript"
    shutil.copytree(ROOT / "samples" / "typescript", folder, ignore=shutil.ignore_patterns("node_modules"))
    shutil.copytree(VISITS, node_tools / "samples" / "visits")
    (node_tools / "openapi").mkdir()
    shutil.copy(CONTRACT, node_tools / "openapi")
    run(["npm", "run", "types"], folder)
    return folder


def test_the_sample_is_typed(sample):
    run(["npm", "run", "check"], sample)


def test_the_sample_answers(sample, address):
    said = run(["npm", "start", "--silent", "--", address, "../visits/grounded-winding.json"], sample)
    assert said.startswith("HOLD ")
    assert "\nunsafe, keep_off: " in said
    assert "[power on]" not in said
    assert "refused at /equipment/refrigerant: " in said


def test_a_wrong_member_is_noticed_by_the_compiler(sample):
    (sample / "wrong.ts").write_text(
        'import type { Visit } from "./client.ts";\nexport const v: Visit = { oops: 1 };\n'
    )
    with pytest.raises(AssertionError, match="oops"):
        run(["npm", "run", "check"], sample)
    (sample / "wrong.ts").unlink()


def test_a_generated_client_is_typed_and_answers(node_tools, address):
    run(["npx", "--no-install", "openapi-ts", "-i", str(CONTRACT), "-o", "made"], node_tools)
    (node_tools / "use.ts").write_text(USE)
    run(["npx", "--no-install", "tsc", *STRICT, *RESOLVED, "use.ts"], node_tools)
    visit = str(VISITS / "grounded-winding.json")
    said = run(["npx", "--no-install", "tsx", "use.ts", address, visit], node_tools).splitlines()
    assert said == ["unsafe hold.winding-grounded false", "422 /equipment/refrigerant", "2"]


def test_the_document_passes_the_linter_without_a_warning(node_tools):
    config = ROOT / "openapi" / "lint.yaml"
    command = [
        "npx",
        "--no-install",
        "redocly",
        "lint",
        str(CONTRACT),
        "--config",
        str(config),
        "--format",
        "json",
    ]
    said = run(command, node_tools, REDOCLY_TELEMETRY="off", REDOCLY_SUPPRESS_UPDATE_NOTICE="true")
    assert '"warnings": 0' in said
    assert '"errors": 0' in said
