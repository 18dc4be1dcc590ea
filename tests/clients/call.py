"""Asks a live service through the Python client that was generated from its document.

Usage: call.py SERVICE CASE
"""

import json
import sys

import generated_client
from generated_client import BlendRequest, CalculationsApi, ReferenceDataApi
from generated_client.exceptions import ApiException
from pydantic import ValidationError


def main(service: str, case: str) -> None:
    with open(case, encoding="utf-8") as file:
        wanted = json.load(file)
    client = generated_client.ApiClient(generated_client.Configuration(host=service))
    calculations = CalculationsApi(client)

    request = BlendRequest.from_dict(wanted)
    assert request is not None
    # The client's own types lose nothing of the request.
    assert request.to_dict() == wanted, "the request changed on its way through the generated types"
    answer = calculations.solve_blend(request)
    assert answer.status == "solved", answer.status
    assert answer.weighings, "nothing is weighed"
    for weighing in answer.weighings:
        assert weighing.mass_g > 0.0, weighing

    salts = ReferenceDataApi(client).salts(search="magnesium sulfate")
    assert any(salt.formula == "MgSO4·7H2O" for salt in salts.salts), salts

    # What the document forbids, the client refuses by itself; what only the chemistry knows, the service refuses.
    try:
        request.volume_l = -20.0
    except ValidationError:
        pass
    else:
        raise AssertionError("the client accepts a negative volume")
    request.salts[0].salt = "magnesium sulfate"
    request.salts[0].formula = None
    try:
        calculations.solve_blend(request)
    except ApiException as refused:
        problem = json.loads(refused.body or "{}")
        assert refused.status == 422, refused.status
        assert [fault["pointer"] for fault in problem["faults"]] == ["/salts/0/salt"], problem
    else:
        raise AssertionError("a salt that may be any of four was accepted")


if __name__ == "__main__":
    main(*sys.argv[1:])
