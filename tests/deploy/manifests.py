"""Judges the files of deploy/ that no machine here can run: rights, limits, probes, and settings that exist.

Usage: manifests.py BINARY
"""

import subprocess
import sys
import tomllib
from pathlib import Path

import yaml

DEPLOY = Path("deploy")
UID = 10001


def pod() -> dict:
    """The pod of the Kubernetes deployment, found through the list that `kubectl apply -k` reads."""
    listed = yaml.safe_load((DEPLOY / "kubernetes/kustomization.yaml").read_text())["resources"]
    documents = [yaml.safe_load((DEPLOY / "kubernetes" / name).read_text()) for name in listed]
    (deployment,) = [document for document in documents if document["kind"] == "Deployment"]
    (service,) = [document for document in documents if document["kind"] == "Service"]
    template = deployment["spec"]["template"]
    labels = template["metadata"]["labels"]
    assert deployment["spec"]["selector"]["matchLabels"].items() <= labels.items(), "the deployment selects others"
    assert service["spec"]["selector"].items() <= labels.items(), "the service selects others"
    (container,) = template["spec"]["containers"]
    names = {port["name"] for port in container["ports"]}
    assert {port["targetPort"] for port in service["spec"]["ports"]} <= names, "the service names no port of it"
    return template["spec"]


def kubernetes_gives_no_rights() -> None:
    spec = pod()
    (container,) = spec["containers"]
    confined = container["securityContext"]
    assert spec["automountServiceAccountToken"] is False
    assert spec["securityContext"]["runAsNonRoot"] is True and spec["securityContext"]["runAsUser"] == UID
    assert spec["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    assert confined["readOnlyRootFilesystem"] is True and confined["privileged"] is False
    assert confined["allowPrivilegeEscalation"] is False and confined["capabilities"] == {"drop": ["ALL"]}
    assert "memory" in container["resources"]["limits"]


def kubernetes_asks_the_right_probes() -> None:
    (container,) = pod()["containers"]
    asked = {name: container[name]["httpGet"]["path"] for name in container if name.endswith("Probe")}
    # A service that drains is alive but not ready, so the two must not be one.
    assert asked == {"startupProbe": "/readyz", "readinessProbe": "/readyz", "livenessProbe": "/livez"}, asked


def kubernetes_waits_for_the_drain() -> None:
    spec = pod()
    (container,) = spec["containers"]
    delay = next(int(one["value"]) for one in container["env"] if one["name"] == "SPRINGWRIGHT_DRAIN_DELAY_S")
    assert delay + example()["drain_timeout_s"] < spec["terminationGracePeriodSeconds"]


def compose_gives_no_rights() -> None:
    service = yaml.safe_load((DEPLOY / "compose.yaml").read_text())["services"]["springwright"]
    assert service["read_only"] is True and service["user"].startswith(f"{UID}:")
    assert service["cap_drop"] == ["ALL"] and "no-new-privileges:true" in service["security_opt"]
    assert all(port.startswith("127.0.0.1:") for port in service["ports"]), "reachable from other machines"
    assert int(service["stop_grace_period"].removesuffix("s")) > example()["drain_timeout_s"]


def image_holds_only_the_binary() -> None:
    lines = (DEPLOY / "Containerfile").read_text().splitlines()
    words = [line.split() for line in lines if line and line.split()[0] in ("FROM", "COPY", "ADD", "RUN", "USER")]
    assert words == [["FROM", "scratch"], ["COPY", "springwright", "/springwright"], ["USER", f"{UID}:{UID}"]], words


def example() -> dict:
    return tomllib.loads((DEPLOY / "springwright.toml").read_text())


def settings(*arguments: str) -> dict:
    """What the binary itself says that holds."""
    said = subprocess.run([sys.argv[1], "config", *arguments], capture_output=True, text=True, check=True, env={})
    return tomllib.loads(said.stdout)


def example_settings_are_the_defaults() -> None:
    """The example shows what holds without it; a setting that is gone would be refused."""
    assert settings("--config", str(DEPLOY / "springwright.toml")) == settings()


def environment_names_settings() -> None:
    """Each variable that the files set is one that the binary reads."""
    asked = subprocess.run([sys.argv[1], "serve", "--help"], capture_output=True, text=True, check=True)
    (container,) = pod()["containers"]
    compose = yaml.safe_load((DEPLOY / "compose.yaml").read_text())["services"]["springwright"]
    image = (DEPLOY / "Containerfile").read_text().splitlines()
    named = [one["name"] for one in container["env"]]
    named += compose["environment"]
    named += [line.removeprefix("ENV ").split("=")[0] for line in image if line.startswith("ENV ")]
    assert len(named) >= 4, named
    for name in named:
        assert f"[env: {name}" in asked.stdout, f"the service reads no {name}"


CHECKS = [
    kubernetes_gives_no_rights,
    kubernetes_asks_the_right_probes,
    kubernetes_waits_for_the_drain,
    compose_gives_no_rights,
    image_holds_only_the_binary,
    example_settings_are_the_defaults,
    environment_names_settings,
]


def main() -> int:
    failed = 0
    for check in CHECKS:
        name = check.__name__.replace("_", " ")
        try:
            check()
            print(f"ok      {name}")
        except Exception as fault:  # each check is told, whatever broke it
            failed += 1
            print(f"FAILED  {name}: {fault!r}")
    print(f"{len(CHECKS) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
