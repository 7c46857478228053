"""The frozen value that holds every input of a job. An edit makes a new one.

It is a plain dataclass, so that the window's first frame need not wait for pydantic; what stands in
``Annotated`` tells pydantic how each entry is checked and written (:mod:`workbench.job.checking`).

Quantities are kept as typed ("3.40 bar"), so nothing drifts when the displayed units change, and a
text that could not be read is kept too (:class:`Unread`), so nothing typed is ever lost.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.house_choices import DemandMethod
from workbench.job.paper_choices import (
    Answer,
    Copy,
    Currency,
    MoneyForm,
    Paper,
    Rounding,
    SolveFor,
    TankPrice,
    WorkKind,
)
from workbench.job.prices import Count, PriceItem, Revision
from workbench.job.pump_choices import MotorLimit, PipeMaterial, PipeSize, PumpEntry
from workbench.job.teach_choices import Degree, Fault, SheetFor
from workbench.job.texts import LARGEST_PICTURE, ShortText
from workbench.job.typed import Entry, TypedText
from workbench.units import (
    ALTITUDE,
    DAILY,
    FLOW,
    HEAD,
    LENGTH,
    MONEY,
    NUMBER,
    PERCENT,
    POWER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TEMPERATURE_STEP,
    TIME,
    VOLUME,
    Bands,
    Pairs,
    Unread,
    parse,
    parse_bands,
)

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler
    from pydantic_core import CoreSchema

    from workbench.catalog.tank import Tank

SCHEMA_VERSION = 4


class _TankRows:
    """Tells pydantic to check rows of the catalogue; their model is imported only then."""

    def __get_pydantic_core_schema__(
        self, _source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from workbench.catalog.tank import Tank

        return handler.generate_schema(tuple[Tank, ...])


if TYPE_CHECKING:
    _Tanks = tuple[Tank, ...]
else:
    _Tanks = Annotated[Any, _TankRows()]

_Text = Annotated[str, ShortText()]
_Picture = Annotated[str, ShortText(LARGEST_PICTURE)]
_Flow = Annotated[Entry, TypedText(FLOW)]
_Pressure = Annotated[Entry, TypedText(PRESSURE)]
_Number = Annotated[Entry, TypedText(NUMBER)]
_Percent = Annotated[Entry, TypedText(PERCENT)]
_SomeFlow = Annotated[Entry | None, TypedText(FLOW, optional=True)]
_SomePressure = Annotated[Entry | None, TypedText(PRESSURE, optional=True)]
_SomeVolume = Annotated[Entry | None, TypedText(VOLUME, optional=True)]
_SomeLength = Annotated[Entry | None, TypedText(LENGTH, optional=True)]
_SomeHead = Annotated[Entry | None, TypedText(HEAD, optional=True)]
_SomeSeconds = Annotated[Entry | None, TypedText(SHORT_TIME, optional=True)]
_SomeMoney = Annotated[Entry | None, TypedText(MONEY, optional=True)]
_SomeBand = Annotated[Bands | Unread | None, TypedText(None, optional=True)]
_SomePercent = Annotated[Entry | None, TypedText(PERCENT, optional=True)]


@dataclass(frozen=True, slots=True)
class CatalogSnapshot:
    """The catalogue rows that a saved job used, so that later edits never change an old quote."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    file: _Text
    tanks: _Tanks


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Every input of one job. Defaults are those of a new, empty job."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    schema_version: Literal[4] = 4
    demo: bool = False
    title: _Text = ""

    # --- the bench ---
    pump_flow: _Flow = parse("10 gpm", FLOW)
    run_time_rule: RunTimeRule = RunTimeRule.TYPED
    run_time: Annotated[Entry, TypedText(TIME)] = parse("1 min", TIME)
    starts_limit: Annotated[Entry, TypedText(STARTS_PER_HOUR)] = parse("6 /h", STARTS_PER_HOUR)

    cut_in: _Pressure = parse("30 psi", PRESSURE)
    cut_out: _Pressure = parse("50 psi", PRESSURE)
    bands: Annotated[Bands | Unread, TypedText(None)] = parse_bands(
        "20/40, 30/50, 40/60, 50/70 psi"
    )

    precharge_rule: PrechargeRule = PrechargeRule.BELOW_2
    precharge: _Pressure = parse("28 psi", PRESSURE)
    reading_temperature: Annotated[Entry | None, TypedText(TEMPERATURE, optional=True)] = None
    reading_altitude: Annotated[Entry | None, TypedText(ALTITUDE, optional=True)] = None

    altitude: Annotated[Entry, TypedText(ALTITUDE)] = parse("0 ft", ALTITUDE)
    tank_temperature: Annotated[Entry, TypedText(TEMPERATURE)] = parse("55 °F", TEMPERATURE)
    exponent: _Number = parse("1.0", NUMBER)

    door_width: _SomeLength = None
    headroom: _SomeLength = None
    pressure_margin: _Pressure = parse("15 psi", PRESSURE)
    potable_required: bool = True
    header_tanks: Literal[1, 2, 3] = 1
    mixed_sets: bool = False
    order: Order = Order.PRICE

    # --- pump and well ---
    pump_entry: PumpEntry = PumpEntry.CONSTANT
    flow_at_cut_in: _SomeFlow = None
    flow_at_cut_out: _SomeFlow = None
    flow_in_at: _SomePressure = None
    flow_out_at: _SomePressure = None
    curve: Annotated[Pairs | Unread | None, TypedText((FLOW, HEAD), optional=True)] = None
    bucket_volume: _SomeVolume = None
    bucket_time: _SomeSeconds = None
    water_level: _SomeHead = None
    pipe_length: _SomeHead = None
    pipe_material: PipeMaterial = PipeMaterial.POLYETHYLENE
    pipe_size: PipeSize = PipeSize.ONE
    pipe_bore: _SomeLength = None
    pipe_roughness: Annotated[Entry | None, TypedText(NUMBER, optional=True)] = None
    fittings: _Percent = parse("25 %", PERCENT)
    pump_efficiency: _SomePercent = None
    well_yield: _SomeFlow = None

    # --- motor ---
    motor_limit: MotorLimit = MotorLimit.WELL_TANK_SMALL
    motor_power: Annotated[Entry | None, TypedText(POWER, optional=True)] = None
    own_starts_hour: Annotated[Entry | None, TypedText(STARTS_PER_HOUR, optional=True)] = None
    own_starts_day: Annotated[Entry | None, TypedText(STARTS_PER_DAY, optional=True)] = None
    own_rest: _SomeSeconds = None
    steady_draw: _Flow = parse("5 gpm", FLOW)

    # --- the house and its day ---
    people: _Number = parse("4", NUMBER)
    bedrooms: _Number = parse("3", NUMBER)
    bathrooms: _Number = parse("2", NUMBER)
    toilets: _Number = parse("2", NUMBER)
    basins: _Number = parse("2", NUMBER)
    tubs: _Number = parse("2", NUMBER)
    showers: _Number = parse("0", NUMBER)
    kitchen_sinks: _Number = parse("1", NUMBER)
    dishwashers: _Number = parse("1", NUMBER)
    washers: _Number = parse("1", NUMBER)
    laundry_sinks: _Number = parse("0", NUMBER)
    hose_bibs: _Number = parse("2", NUMBER)
    daily_use: Annotated[Entry | None, TypedText(DAILY, optional=True)] = None
    demand_method: DemandMethod = DemandMethod.OUTLETS
    peak_demand: _SomeFlow = None
    leak: Annotated[Entry, TypedText(DAILY)] = parse("0 gal/d", DAILY)
    irrigation_flow: _SomeFlow = None
    irrigation_start: _Number = parse("5", NUMBER)
    irrigation_time: Annotated[Entry | None, TypedText(TIME, optional=True)] = None
    seed: _Number = parse("1", NUMBER)
    first_tank: _Text = ""
    second_tank: _Text = ""

    # --- several tanks, old plain tanks ---
    header_set: Annotated[Pairs | Unread | None, TypedText((VOLUME, PRESSURE), optional=True)] = (
        None
    )
    plain_volume: _SomeVolume = None
    plain_residual: _SomePercent = None

    # --- tolerances ---
    tol_gauge: _Pressure = parse("2 psi", PRESSURE)
    tol_switch_in: _Pressure = parse("2 psi", PRESSURE)
    tol_switch_out: _Pressure = parse("2 psi", PRESSURE)
    tol_precharge: _Pressure = parse("1 psi", PRESSURE)
    tol_temperature: Annotated[Entry, TypedText(TEMPERATURE_STEP)] = parse(
        "10 °F", TEMPERATURE_STEP
    )
    tol_flow: _Percent = parse("10 %", PERCENT)
    tol_bucket: Annotated[Entry, TypedText(VOLUME)] = parse("0.25 gal", VOLUME)
    tol_watch: Annotated[Entry, TypedText(SHORT_TIME)] = parse("1 s", SHORT_TIME)

    # --- a variable-speed drive ---
    drive_set: _SomePressure = None
    drive_wake: _SomePressure = None
    drive_tank: _SomeVolume = None
    drive_share: _SomePercent = None
    drive_ramp: _SomeSeconds = None
    drive_step: _SomeFlow = None

    # --- another band, and what is not known ---
    today_volume: _SomeVolume = None
    today_acceptance: _SomeVolume = None
    today_rating: _SomePressure = None
    relief_setting: _SomePressure = None
    lowest_fixture: _SomeHead = None
    highest_fixture: _SomeHead = None
    solve_for: SolveFor = SolveFor.VOLUME
    solve_volume: Annotated[Entry, TypedText(VOLUME)] = parse("44 gal", VOLUME)

    # --- the firm: the same in all its jobs, see firm.py ---
    firm_name: _Text = ""
    firm_address: _Text = ""
    firm_contact: _Text = ""
    firm_licence: _Text = ""
    firm_insurance: _Text = ""
    firm_logo: _Picture = ""
    currency: Currency = Currency.USD
    money_form: MoneyForm = MoneyForm.EN_US
    paper: Paper = Paper.LETTER
    prices: tuple[PriceItem, ...] = ()
    prices_invented: bool = False
    tank_price: TankPrice = TankPrice.SELLING
    tank_taxed: bool = True
    markup: _Percent = parse("0 %", PERCENT)
    labour_rate: _SomeMoney = None
    labour_cost: _SomeMoney = None
    tax: _Percent = parse("0 %", PERCENT)
    rounding: Rounding = Rounding.COIN
    valid_days: _Number = parse("30", NUMBER)
    clause_allowances: _Text = ""
    clause_assumptions: _Text = ""
    clause_exclusions: _Text = ""
    clause_schedule: _Text = ""
    clause_payment: _Text = ""
    clause_warranty: _Text = ""
    clause_acceptance: _Text = ""

    # --- the estimate ---
    customer_name: _Text = ""
    customer_address: _Text = ""
    customer_contact: _Text = ""
    site_address: _Text = ""
    prepared_by: _Text = ""
    estimate_number: _Text = ""
    estimate_date: _Text = ""
    problem: _Text = ""
    scope: _Text = ""
    found_cut_in: _SomePressure = None
    found_cut_out: _SomePressure = None
    found_precharge: _SomePressure = None
    found_drawdown: _SomeVolume = None
    found_refill: _SomeSeconds = None
    found_note: _Text = ""
    work_kind: WorkKind = WorkKind.SWAP_HEADER
    offer_a_tank: _Text = ""
    offer_a_band: _SomeBand = None
    offer_a_label: _Text = ""
    offer_b_tank: _Text = ""
    offer_b_band: _SomeBand = None
    offer_b_label: _Text = ""
    offer_c_tank: _Text = ""
    offer_c_band: _SomeBand = None
    offer_c_label: _Text = ""
    counts: tuple[Count, ...] = ()
    permit: Answer = Answer.OPEN
    licence: Answer = Answer.OPEN
    permit_note: _Text = ""
    copy_for: Copy = Copy.CUSTOMER
    with_readings: bool = True
    with_plot: bool = True
    with_lines: bool = True
    with_allowances: bool = True
    with_assumptions: bool = True
    with_exclusions: bool = True
    with_schedule: bool = True
    with_payment: bool = True
    with_warranty: bool = True
    with_permit: bool = True
    with_acceptance: bool = True
    with_working: bool = False
    revisions: tuple[Revision, ...] = ()

    # --- the setting card ---
    set_by: _Text = ""
    set_date: _Text = ""
    card_note: _Text = ""

    # --- the live tank, its faults, and exercises ---
    live_volume: _SomeVolume = None
    live_air: Annotated[Entry | None, TypedText(TEMPERATURE, optional=True)] = None
    line_give: Annotated[Entry, TypedText(VOLUME)] = parse("0.005 gal", VOLUME)
    start_delay: Annotated[Entry, TypedText(SHORT_TIME)] = parse("1 s", SHORT_TIME)
    fault: Fault = Fault.NONE
    degree: Degree = Degree.CLEAR
    topic_precharge: bool = True
    topic_tank: bool = True
    topic_fault: bool = True
    topic_readings: bool = True
    topic_complaint: bool = True
    exercise_seed: _Number = parse("1", NUMBER)
    exercise_count: _Number = parse("10", NUMBER)
    sheet_for: SheetFor = SheetFor.CLASS
    class_name: _Text = ""
    class_date: _Text = ""

    catalog: CatalogSnapshot | None = None

    @classmethod
    def entries(cls) -> tuple[str, ...]:
        """The names of all entries, in their order."""
        return tuple(entry.name for entry in fields(cls))

    def changed(self, **values: Any) -> Job:
        """A copy with some entries replaced; values are checked as when a file is read.

        Raises:
            checking.UnfitError: a value cannot stand in a job.
        """
        from workbench.job.checking import job_of  # pydantic: not needed before the first edit

        return job_of({name: getattr(self, name) for name in self.entries()} | values)
