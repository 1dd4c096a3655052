"""One air conditioner built of the components of TESPy 0.11.3 (MIT licence), a public solver of thermal networks.

The package's own equations: compressor by ten-coefficient polynomials of EN 12900 (``PolynomialCompressor``), both
coils by areas of zones with a coefficient each (``MovingBoundaryHeatExchanger``, ``SectionedHeatExchanger``; Bell
et al. 2015, as cited there), restrictors by a flow coefficient (``Valve``), humid air by CoolProp
(``HAConnection``) and the solver. Ours, because the package has none: the charge held (areas of the zones times
the coil's volume, density of the two phases with the slip of Zivi 1964, from memory), the line along which a valve
opens with superheat, the share of air that passes the indoor coil untouched, the exponent of the air side's
coefficient, and that foreign gas adds its pressure to the gauge and hinders condensing. A fixed orifice passes by
the whole difference of pressure: the package knows no choked flow. Known to differ from chambers: a unit with a
valve that is slightly short of charge boils a little warmer here. Needs TESPy; see ``public_draw``.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from CoolProp.CoolProp import HAPropsSI, PropsSI
from tespy.tools import UserDefinedEquation
from tespy.tools.helpers import TESPyNetworkError

from tests.outside.public_charge import coil_charge, saturated
from tests.outside.public_network import built, efficiency_at, polynomials

Values = dict[str, float]
TON = 3516.85
STANDARD = 101_325.0
RETURN_AIR = (299.8167, 292.5944)  # rating A: dry and wet bulb [K]
RATED_OUTDOOR = 308.15
HERTZ = 58.0
STEPS = (1, 5, 14)  # tried in turn
FIN_RATIO = 20.0
# Coefficients of the refrigerant's side [W/(m2 K)]: ordinary ones, a choice of these tests.
INSIDE = {"tp": 2500.0, "g": 350.0, "sc": 350.0}
SOUND_RUN: Values = {
    "charge": 1.0,
    "indoor_flow": 1.0,
    "outdoor_flow": 1.0,
    "fin_share": 1.0,
    "restriction": 0.0,
    "foreign": 0.0,
    "leakage": 0.0,
    "area": 1.0,
    "static_shift": 0.0,
    "opening": 1.0,
}


class Unsolved(Exception):
    """The network did not come to rest."""


@dataclass
class _Sized:
    """What the design at rating A gives: flow [kg/s], areas [m2], flow coefficients, charge [kg], air [kg/s]."""

    flow: float
    lift: float
    meter: float
    line: float
    charge: float
    outdoor_air: float
    power: float
    gas_heat: float


class PublicUnit:
    """A unit of one ton. design: see ``public_draw.drawn_unit`` (temperatures K, airflow m3/s, volumes m3)."""

    def __init__(self, fluid: str, has_valve: bool, design: Values) -> None:
        self.fluid, self.has_valve, self.design = fluid, has_valve, design
        self._begin()

    def _begin(self) -> None:
        self.run_values = dict(SOUND_RUN)
        parts = built()
        self.network, self.at = parts.network, parts.at
        self.compressor, self.outdoor, self.indoor = parts.compressor, parts.outdoor, parts.indoor
        self.foreign, self.gauge, self.line = parts.foreign, parts.gauge, parts.line
        self.sized = self._size()

    def _size(self) -> _Sized:
        design = self.design
        high = PropsSI("P", "T", design["condensing"], "Q", 0, self.fluid)
        low = PropsSI("P", "T", design["boiling"], "Q", 1, self.fluid)
        efficiency, volume = polynomials(self.fluid, design, 0.0)
        self.compressor.set_attr(eta_s_poly=efficiency, dissipation_ratio=design["shell_loss"])
        self._coefficients(1.0, 1.0, 1.0, 0.0)
        self.outdoor.set_attr(dp1=0, dp2=0)
        self.indoor.set_attr(dp1=0, dp2=0, num_sections=4, Q=-TON)
        for valve in (self.foreign, self.gauge):
            valve.set_attr(pr=1.0)
        self.line.set_attr(dp=design["drier_loss"])
        at = self.at
        at["leaving"].set_attr(fluid={self.fluid: 1}, p=low, td_dew=design["superheat"])
        at["discharge"].set_attr(p=high)
        at["coil_out"].set_attr(td_bubble=design["subcooling"])
        rise = design["effectiveness"] * (design["condensing"] - RATED_OUTDOOR)
        at["warm_in"].set_attr(fluid={"Air": 1}, T=RATED_OUTDOOR, p=STANDARD)
        at["warm_out"].set_attr(T=RATED_OUTDOOR + rise)
        back = _return_air()
        dry, ratio = back["return_dry_bulb"], back["return_ratio"]
        moved = self._touched(1.0) * design["air"] / HAPropsSI("V", "T", dry, "W", ratio, "P", STANDARD)
        at["return"].set_attr(m=moved, T=dry, p=STANDARD, w=ratio)
        self._solve()
        flow, lift = at["leaving"].m.val_SI, high - low
        eta = efficiency_at(volume, design["boiling"], design["condensing"])
        swept = flow * at["suction"].vol.val_SI / eta / HERTZ
        charge = self.held()
        sized = _Sized(
            flow,
            lift,
            _coefficient(flow, at["metered"].vol.val_SI, lift - design["drier_loss"]),
            self.line.zeta_d4.val_SI,
            charge,
            at["warm_in"].m.val_SI,
            self.compressor.P.val_SI,
            (at["leaving"].h.val_SI - saturated(self.fluid, low)["gas"]) / design["superheat"],
        )
        self._free(swept, self.outdoor.area_hot.val_SI, self.indoor.area_hot.val_SI)
        return sized

    def _free(self, swept: float, outdoor_area: float, indoor_area: float) -> None:
        """From what was asked of the design to what the sized parts give."""
        self.outdoor.set_attr(area_hot=outdoor_area)
        self.indoor.set_attr(area_hot=indoor_area, Q=None)
        self.compressor.set_attr(
            eta_vol_poly=polynomials(self.fluid, self.design, 0.0)[1],
            frequency=HERTZ,
            reference_state={"swept_volume": swept, "frequency_poly": HERTZ, "T_sh": 10.0, "T_sc": 0.0},
        )
        self.line.set_attr(dp=None)
        self.at["leaving"].set_attr(p=None, td_dew=None)
        self.at["discharge"].set_attr(p=None)
        self.at["coil_out"].set_attr(td_bubble=None)
        self.at["warm_out"].set_attr(T=None)
        around = ("coil_in", "coil_out", "liquid", "cold", "leaving", "warm_in", "warm_out", "return", "supply")
        for label, error, names in (
            ("charge", _charge_error, around),
            ("opening", _meter_error, ("metered", "cold", "leaving")),
        ):
            conns = [self.at[name] for name in names]
            own = UserDefinedEquation(label, error, _every_state, conns=conns, params={"unit": self})
            self.network.add_ude(own)

    def run(self, weather: Values, run: Values) -> Values:
        """States at a weather (outdoor, return_dry_bulb [K], return_ratio, pressure [Pa]) and operation.

        Raises: Unsolved.
        """
        first = {"outdoor": RATED_OUTDOOR, **_return_air()}
        for steps in STEPS:
            try:
                self._walk(first, weather, run, steps)
            except Unsolved:
                # The solver keeps nothing of use of what it did not solve: the unit is built anew.
                self._begin()
            else:
                return self._found(weather, run)
        raise Unsolved(run)

    def _walk(self, first: Values, weather: Values, run: Values, steps: int) -> None:
        """From rating A, or from what was solved last where one step is asked, in even steps."""
        for share in np.linspace(0.0, 1.0, steps + 1)[0 if steps > 1 else 1 :]:
            self._set(_between(first, weather, float(share)), _between(SOUND_RUN, run, float(share)))
            self._solve()

    def _set(self, weather: Values, run: Values) -> None:
        design, sized, at = self.design, self.sized, self.at
        self.run_values = run
        efficiency, volume = polynomials(self.fluid, design, run["leakage"])
        self.compressor.set_attr(eta_s_poly=efficiency, eta_vol_poly=volume)
        self._coefficients(run["indoor_flow"], run["outdoor_flow"], run["fin_share"], run["foreign"])
        self.foreign.set_attr(pr=1.0 / (1.0 + run["foreign"]))
        self.gauge.set_attr(pr=1.0 + run["foreign"])
        loss = design["drier_loss"]
        self.line.set_attr(zeta_d4=sized.line * (loss + run["restriction"] * sized.lift) / loss)
        dense = weather["pressure"] / STANDARD * RATED_OUTDOOR / weather["outdoor"]
        at["warm_in"].set_attr(
            m=sized.outdoor_air * run["outdoor_flow"] * dense, T=weather["outdoor"], p=weather["pressure"]
        )
        volume_of = HAPropsSI(
            "V", "T", weather["return_dry_bulb"], "W", weather["return_ratio"], "P", weather["pressure"]
        )
        moved = self._touched(run["indoor_flow"]) * design["air"] * run["indoor_flow"] / volume_of
        at["return"].set_attr(
            m=moved, T=weather["return_dry_bulb"], p=weather["pressure"], w=weather["return_ratio"]
        )

    def _coefficients(self, indoor: float, outdoor: float, fins: float, foreign: float) -> None:
        boiling = INSIDE | {"l": self.design["liquid_coefficient"]}
        inside = boiling | {"tp": INSIDE["tp"] / (1.0 + 4.0 * foreign)}
        power = self.design["air_exponent"]
        warm, cold = 55.0 * outdoor**power * fins, 55.0 * indoor**power
        self.outdoor.set_attr(
            **{f"alpha1_{name}": value for name, value in inside.items()},
            **{f"alpha2_{name}": warm for name in inside},
            area_ratio=FIN_RATIO,
            R_cond=0.0,
        )
        self.indoor.set_attr(
            **{f"alpha1_{name}": cold for name in inside},
            **{f"alpha2_{name}": value for name, value in boiling.items()},
            area_ratio=1.0 / FIN_RATIO,
            R_cond=0.0,
        )

    def _touched(self, flow: float) -> float:
        """Share of the air that meets the indoor coil."""
        return 1.0 - (1.0 - self.design["contact"]) ** (flow**-0.45)

    def _solve(self) -> None:
        try:
            self.network.solve("design")
        except (ValueError, ArithmeticError, TESPyNetworkError) as error:
            raise Unsolved(str(error)) from error
        if not self.network.converged:
            raise Unsolved("not at rest")

    def held(self) -> float:
        """Charge in both coils and the liquid line [kg]."""
        design = self.design
        line = design["line_volume"] / self.at["liquid"].calc_vol()
        outdoor = coil_charge(self.outdoor, 0, design["outdoor_volume"], self.fluid)
        return float(line + outdoor + coil_charge(self.indoor, 1, design["indoor_volume"], self.fluid))

    def superheat(self) -> float:
        """Of the gas leaving the indoor coil [K]; below 0 where it is wet."""
        leaving = self.at["leaving"]
        pressure = leaving.p.val_SI
        return (leaving.h.val_SI - saturated(self.fluid, pressure)["gas"]) / self.sized.gas_heat

    def passed(self) -> float:
        """Flow [kg/s] through the metering device: the package's flow coefficient, as far as it is open."""
        entering, leaving = self.at["metered"], self.at["cold"]
        drop = max(entering.p.val_SI - leaving.p.val_SI, 1e4)
        most = (drop / entering.calc_vol() / 100.0) ** 0.5 / 3600.0
        return float(self.sized.meter * self._opening() * most)

    def _opening(self) -> float:
        run, design = self.run_values, self.design
        if not self.has_valve:
            return run["area"]
        wanted = design["static"] + run["static_shift"]
        lift = (self.superheat() - wanted) / (design["superheat"] - design["static"])
        most = design["most_open"] * run["opening"]
        # Smooth between shut (.02) and wide open.
        opened = float(np.logaddexp(0.0, 8.0 * lift) / 8.0)
        return max(most - float(np.logaddexp(0.0, 8.0 * (most - opened))) / 8.0, 0.02)

    def _found(self, weather: Values, run: Values) -> Values:
        at, design = self.at, self.design
        touched = self._touched(run["indoor_flow"])
        supply, back = at["supply"], at["return"]
        mixed = touched * supply.h.val_SI + (1.0 - touched) * back.h.val_SI
        ratio = touched * supply.w.val_SI + (1.0 - touched) * weather["return_ratio"]
        state = "H", mixed, "W", ratio, "P", weather["pressure"]
        flow = at["leaving"].m.val_SI
        return {
            "suction_saturation": PropsSI("T", "P", at["leaving"].p.val_SI, "Q", 1, self.fluid),
            "liquid_saturation": PropsSI("T", "P", at["liquid"].p.val_SI, "Q", 0, self.fluid),
            "suction_line": at["leaving"].T.val_SI,
            "liquid_line": at["liquid"].T.val_SI,
            "drier_outlet": at["metered"].T.val_SI,
            "discharge": at["discharge"].T.val_SI,
            "supply": HAPropsSI("T", *state) + design["blower_rise"] / run["indoor_flow"],
            "supply_ratio": ratio,
            "leaving_air": at["warm_out"].T.val_SI,
            "gauge": at["liquid"].p.val_SI,
            "power": self.compressor.P.val_SI,
            "flow": flow,
            "superheat": self.superheat(),
            "indoor_heat": flow * (at["leaving"].h.val_SI - at["cold"].h.val_SI),
            "outdoor_heat": at["warm_in"].m.val_SI * (at["warm_out"].h.val_SI - at["warm_in"].h.val_SI),
            "air_heat": back.m.val_SI * (back.h.val_SI - supply.h.val_SI),
            "shell_heat": -self.compressor.Q_diss.val_SI,
        }


def _charge_error(ude: Any) -> float:
    unit: PublicUnit = ude.params["unit"]
    return unit.held() / unit.sized.charge - unit.run_values["charge"]


def _meter_error(ude: Any) -> float:
    unit: PublicUnit = ude.params["unit"]
    return float((unit.passed() - ude.conns[0].m.val_SI) / unit.sized.flow)


def _every_state(ude: Any) -> list[Any]:
    return [getattr(one, name) for one in ude.conns for name in ("m", "p", "h")]


def _return_air() -> Values:
    ratio = HAPropsSI("W", "T", RETURN_AIR[0], "B", RETURN_AIR[1], "P", STANDARD)
    return {"return_dry_bulb": RETURN_AIR[0], "return_ratio": ratio, "pressure": STANDARD}


def _coefficient(flow: float, volume: float, drop: float) -> float:
    """Flow coefficient of a restrictor as ``Valve`` has it [m3/h at 1 bar of water]."""
    return float(3600.0 * flow * (100.0 * volume / drop) ** 0.5)


def _between(first: Values, last: Values, share: float) -> Values:
    return {name: first[name] + share * (last[name] - first[name]) for name in first}
