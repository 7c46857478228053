"""Papers with every kind of block. All in them is invented."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace

from workbench.report.blocks import (
    Facts,
    Formula,
    Large,
    Letterhead,
    PaperContent,
    Picture,
    Section,
    Sign,
    Table,
    Ticks,
    Warn,
    Words,
)
from workbench.report.svg import SERIES, Canvas, Scale, Stroke, round_steps

FIRM = "Millbrook Well & Tank (invented)"


def logo(width: int = 120, height: int = 60) -> bytes:
    """A PNG of a dark bar above a grey one."""
    rows = b"".join(
        b"\0" + (b"\x20\x40\x60" if y < height / 2 else b"\xb0\xb0\xb0") * width
        for y in range(height)
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in (
            (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)),
            (b"IDAT", zlib.compress(rows)),
            (b"IEND", b""),
        )
    )


def plot() -> str:
    """Three lines over a grid, and a bar of each hatch."""
    canvas = Canvas(460, 210)
    across, up = Scale(0, 100, 50, 350), Scale(0, 40, 175, 15)
    for value in round_steps(0, 40):
        canvas.line((50, up(value)), (350, up(value)), Stroke("#C9C6BD", 0.5))
        canvas.text((44, up(value) + 3), f"{value:.0f}", anchor="end")
    for value in round_steps(0, 100):
        canvas.text((across(value), 188), f"{value:.0f}", anchor="middle")
    canvas.text((200, 203), "Total volume, gal", anchor="middle")
    canvas.text((16, 95), "Drawdown ≥ 0, gal", anchor="middle", turned=True)
    for number, one in enumerate(SERIES[:4]):
        slope = 0.36 - 0.06 * number
        width = 2.2 if number == 1 else 1.2
        canvas.polyline([(across(v), up(v * slope)) for v in (0, 50, 100)], one.stroke(width))
        canvas.marker(one, (across(50), up(50 * slope)))
        canvas.text((354, up(100 * slope) + 3), f"{20 + 10 * number}/{40 + 10 * number} psi")
    for number, one in enumerate(SERIES):
        canvas.rect((410, 15 + 28 * number), 40, 22, hatch=one, stroke=Stroke(one.colour, 0.8))
    return canvas.svg()


HEAD = Letterhead(
    name=FIRM,
    lines=(
        "12 Sample Road · Millbrook, Anystate",
        "555-0100 · office@example.com",
        "Pump installer 0000 (invented)",
    ),
    logo=logo(),
    logo_type="png",
)
PICTURE = Picture(svg=plot(), told="Drawdown over total volume for four bands, invented.")
OPTIONS = Table(
    name="What the options give",
    columns=("", "A: as it was", "B: longer run", "C: two tanks"),
    rows=(
        ("Tank", "Invented 44, 44 gal", "Invented 62, 62 gal", "2 × Invented 44, 88 gal"),
        ("Switch band", "30/50 psi", "30/50 psi", "40/60 psi"),
        ("Drawdown", "13.5 gal", "19.0 gal", "23.4 gal"),
        ("Run time", "1 min 14 s", "1 min 44 s", "2 min 8 s"),
        ("Starts on an average day", "24", "17", "14"),
        ("Price", "$1,184.00", "$1,322.00", "$2,210.00"),
    ),
    strong=(5,),
)


def lines(count: int = 24) -> Table:
    """A table of items that goes over more than one page."""
    rows = tuple(
        (f"Part {n} of the header, brass, 1 in", str(n % 3 + 1), "each", f"${n}.50", f"${n * 2}.00")
        for n in range(1, count + 1)
    )
    return Table(
        name="Option A, line by line",
        columns=("Item", "Quantity", "Unit", "Each", "Amount"),
        rows=(*rows, ("Sum", "", "", "", "$1,100.00"), ("Total", "", "", "", "$1,184.00")),
        strong=(count, count + 1),
    )


CLAUSE = (
    "Work begins within ten days of the acceptance and takes half a day. The water is off for about"
    " two hours.\nWhat is found behind the wall is not included; it is shown and agreed before"
    " anything is done about it."
)


def estimate(sheet: str = "us-letter", items: int = 24) -> PaperContent:
    """Three pages or so, every block in it."""
    return PaperContent(
        kind="estimate",
        title="Estimate",
        language="en",
        sheet=sheet,
        date="2026-03-31",
        head=HEAD,
        facts=(
            ("Customer", "Sam Example (invented)\n3 Lake Lane\nMillbrook, Anystate"),
            ("Site", "Lake cabin, Shore Road 7"),
            ("Number", "2026-014, revision 2"),
            ("Date", "March 31, 2026"),
            ("Valid until", "April 30, 2026"),
            ("Prepared by", "R. Sample"),
        ),
        sections=(
            Section(key="found", heading="What was found", blocks=(
                Words(text="The pump starts every half minute while a tap runs."),
                Facts(rows=(
                    ("Cut-in and cut-out", "29 psi and 51 psi"),
                    ("Air in the tank, drained", "11 psi"),
                    ("Drawdown, measured", "3.1 gal"),
                    ("Flow of the pump, from the refilling time", "11.2 gpm"),
                )),
                Warn(word="Caution", text="The relief valve does not open at its marked pressure."
                     " It must be renewed before the pump runs unattended."),
            )),
            Section(key="options", heading="Options", blocks=(OPTIONS, PICTURE)),
            Section(key="lines", heading="Line items", blocks=(
                lines(items),
                Words(text="All prices in US dollars. All invented.", tone="muted"),
            )),
            Section(key="schedule", heading="Schedule", blocks=(Words(text=CLAUSE),)),
            Section(key="payment", heading="Payment", blocks=(
                Words(text="One third with the acceptance, the rest when the water runs."),
                Words(text="No work without a written change order.", tone="strong"),
            )),
            Section(key="acceptance", heading="Acceptance", blocks=(
                Words(text="I accept option ______ at the price stated above."),
                Ticks(steps=("The water is off.", "The tank is drained and its gauge at zero.")),
                Sign(lines=("Customer, date", "For the firm, date")),
            )),
            Section(key="working", heading="How the figures come about", blocks=(
                Formula(
                    title="Drawdown",
                    formula="D = V · (p0 / p1 − p0 / p2)",
                    numbers="44 gal · (42.7 / 44.7 − 42.7 / 64.7) = 13.0 gal",
                    source="Boyle’s law, absolute pressures",
                ),
                Large(name="Precharge", value="28 psi", remark="± 1 psi, tank drained"),
            )),
        ),
        foot="Inputs 3f9a0c12b7de · tank-workbench 0.4 · all invented",
    )  # fmt: skip


def card(sheet: str = "us-letter") -> PaperContent:
    """A setting card."""
    return replace(
        estimate(sheet),
        kind="card",
        title="Setting card",
        facts=(
            ("Site", "Lake cabin, Shore Road 7"),
            ("Tank", "Invented 44, 44 gal"),
            ("Set by", "R. Sample, March 31, 2026"),
        ),
        sections=(
            Section(key="setting", heading="", blocks=(
                Large(name="Switch band", value="30/50 psi", remark="on at 30 psi, off at 50 psi"),
                Large(name="Precharge", value="28 psi", remark="27 to 29 psi, tank drained"),
            )),
            Section(key="steps", heading="How it is set", blocks=(
                Warn(word="Danger", text="Mains voltage at the switch. Turn the pump’s power off,"
                     " lock it out, and prove it dead before the cover comes off."),
                Ticks(steps=(
                    "Power off, locked out, proven dead.",
                    "Valve to the house shut; drain open until the gauge is at zero and it is dry.",
                    "Read the air at the tank’s valve with a gauge you trust; set it to 28 psi.",
                    "Drain shut, power on. Watch the gauge: on at 30 psi, off at 50 psi.",
                    "Write down what was left.",
                )),
            )),
            Section(key="left", heading="As left", blocks=(
                Table(name="As left", columns=("", "to be", "as left"), rows=(
                    ("Cut-in", "30 psi", "______"), ("Cut-out", "50 psi", "______"),
                    ("Precharge", "28 psi", "______"),
                )),
                Words(text="Never above the pressure that is marked on the vessel: 100 psi."),
            )),
        ),
    )  # fmt: skip


def chart(sheet: str = "us-letter", tanks: int = 18) -> PaperContent:
    """A counter chart."""
    bands = ("20/40", "30/50", "40/60", "50/70", "60/80")
    rows = tuple(
        (f"Invented {12 + 6 * n}", f"{12 + 6 * n} gal",
         *(f"{(12 + 6 * n) * (0.37 - 0.05 * b) / 10:.1f} min" for b in range(5)))
        for n in range(tanks)
    )  # fmt: skip
    return replace(
        estimate(sheet),
        kind="chart",
        title="Run times at 10 gpm",
        facts=(("Precharge", "cut-in less 2 psi"), ("Altitude", "900 ft")),
        sections=(
            Section(key="chart", heading="", blocks=(
                Table(name="Run time by tank and band", rows=rows,
                      columns=("Tank", "Volume", *(f"{band} psi" for band in bands))),
                Words(text="Below the firm’s least run time of 1 min the field says so.",
                      tone="muted"),
            )),
        ),
    )  # fmt: skip
