"""Environments of their own for distributions that a test builds and installs."""

import os
import subprocess
import sysconfig
import venv
from pathlib import Path

import pytest


def _run(*command, **more):
    environment = {
        key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "PIP_", "COV"))
    }
    ran = subprocess.run(command, capture_output=True, text=True, timeout=120, env=environment, **more)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran.stdout


@pytest.fixture(scope="session")
def run():
    """Run a program outside of this test's environment; return what it printed."""
    return _run


@pytest.fixture(scope="session")
def own_environment(tmp_path_factory):
    """Install a distribution by pip into a new environment; all else is seen through from this one."""

    def make(source: Path) -> Path:
        folder = tmp_path_factory.mktemp("environment")
        venv.create(folder, with_pip=False)
        python = folder / ("Scripts" if os.name == "nt" else "bin") / "python"
        site = _run(str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))").strip()
        through = dict.fromkeys([sysconfig.get_path("purelib"), sysconfig.get_path("platlib")])
        line = "import site; " + "; ".join(f"site.addsitedir({place!r})" for place in through)
        (Path(site) / "through.pth").write_text(line + "\n", encoding="utf-8")
        install = ("-m", "pip", "install", "--quiet", "--no-deps", "--no-build-isolation", "--no-index")
        _run(str(python), *install, "--disable-pip-version-check", str(source), cwd=folder)
        return python

    return make
