"""One small file per endpoint; the blueprints are listed here and registered by the application factory."""

from flask import Blueprint

from service.wire.routes.probes import BLUEPRINT as PROBES
from service.wire.routes.problem_list import BLUEPRINT as PROBLEM_LIST

BLUEPRINTS: tuple[Blueprint, ...] = (PROBES, PROBLEM_LIST)
