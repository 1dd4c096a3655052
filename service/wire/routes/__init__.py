"""One small file per endpoint; the blueprints are listed here and registered by the application factory."""

from flask import Blueprint

from service.wire.routes.batch import BLUEPRINT as BATCH
from service.wire.routes.catalogues import BLUEPRINT as CATALOGUES
from service.wire.routes.chart import BLUEPRINT as CHART
from service.wire.routes.comparison import BLUEPRINT as COMPARISON
from service.wire.routes.contract import BLUEPRINT as CONTRACT
from service.wire.routes.docs import BLUEPRINT as DOCS
from service.wire.routes.intake import BLUEPRINT as INTAKE
from service.wire.routes.probes import BLUEPRINT as PROBES
from service.wire.routes.problem_list import BLUEPRINT as PROBLEM_LIST
from service.wire.routes.procedures import BLUEPRINT as PROCEDURES
from service.wire.routes.refrigerants import BLUEPRINT as REFRIGERANTS
from service.wire.routes.root import BLUEPRINT as ROOT
from service.wire.routes.rules import BLUEPRINT as RULES
from service.wire.routes.saturation import BLUEPRINT as SATURATION
from service.wire.routes.visits import BLUEPRINT as VISITS

BLUEPRINTS: tuple[Blueprint, ...] = (
    VISITS,
    INTAKE,
    COMPARISON,
    CHART,
    BATCH,
    PROCEDURES,
    SATURATION,
    REFRIGERANTS,
    CATALOGUES,
    RULES,
    PROBLEM_LIST,
    ROOT,
    CONTRACT,
    DOCS,
    PROBES,
)
"""In the order of the contract."""
