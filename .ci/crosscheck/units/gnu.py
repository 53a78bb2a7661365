"""Compare every unit of the library with GNU units.

stdin: the JSON of dump.go. With a file name as argument the answers are written
there as a table, for units/testdata/gnu_units.tsv. Exit 1 on a difference that is not explained below,
on a unit that GNU units is not asked about, and on an explanation that is not
needed any more.
"""
import json
import re
import subprocess
import sys
from fractions import Fraction

# GNU units computes in float64 with a rounding at each step of a definition.
TOLERANCE = 2e-15

# SI unit of each type in the language of GNU units.
SI = {
    "Length": "m", "Area": "m^2", "Volume": "m^3", "Time": "s", "Frequency": "1/s", "Speed": "m/s", "Acceleration": "m/s^2",
    "Mass": "kg", "Force": "N", "ForcePerWidth": "N/m", "Pressure": "Pa", "GaugePressure": "Pa", "Temperature": "K",
    "TemperatureDifference": "K", "Voltage": "V", "DisplayVoltage": "V", "ElectricField": "V/m", "Charge": "C",
    "SurfaceChargeDensity": "C/m^2", "LineChargeDensity": "C/m", "VolumeChargeDensity": "C/m^3", "ChargePerMass": "C/kg",
    "Current": "A", "LineCurrent": "A/m", "CurrentDensity": "A/m^2", "Capacitance": "F", "Resistance": "ohm",
    "SheetResistance": "ohm", "VolumeResistivity": "ohm m", "AreaResistance": "ohm m^2", "MassResistivity": "ohm kg/m^2",
    "Conductivity": "S/m", "Energy": "J", "Power": "W", "EnergyPerMass": "J/kg", "EnergyPerArea": "J/m^2", "Viscosity": "Pa s",
    "Mobility": "m^2/(V s)", "Diffusivity": "m^2/s", "NumberDensity": "1/m^3", "RecombinationCoefficient": "m^3/s",
    "RelativeHumidity": "1", "RelativeHumidityIce": "1", "HumidityRatio": "1", "SpecificHumidity": "1", "VapourDensity": "kg/m^3",
    "Density": "kg/m^3", "BasisWeight": "kg/m^2", "MassFlow": "kg/s", "MolarFlow": "mol/s", "VolumeFlow": "m^3/s", "Angle": "radian",
    "Ratio": "1", "StandardFlow": "m^3/s",
}

# How GNU units writes what the rules of expression() do not give. None: GNU
# units has no such unit, and the comment says what stands in for it.
SPELLED = {
    "gauge": "mil/100",  # film gauge, 0.01 mil: GNU has only wire gauges
    "[ft_us]": "US foot",
    "gn": "gravity", "ozf": "oz force", "ozf/in": "oz force/in", "gf": "gram force", "gal(US)": "gallon",
    "Torr": "torr", "ksi": "kip/in^2", "kgf/cm²(g)": "kgf/cm^2", "psig": "psi",
    "inWC": "inH2O", "°R": "degR", "Δ°C": "K", "Δ°F": "degF", "fpm": "ft/min",
    "Ω·kg/m²": "ohm kg/m^2", "Ω·g/cm²": "ohm g/cm^2", "Ω·g/m²": "ohm g/m^2",
    "lb/3000ft²": "lb/(3000 ft^2)", "lb/1000ft²": "lb/(1000 ft^2)", "lb/100ft²": "lb/(100 ft^2)",
    "lb bond": "lbbond", "lb book": "lbbook", "lb cover": "lbcover", "lb tag": "lbtag", "lb index": "lbindex",
    "lb blotting": "lbblotting", "lb postcard": "lbpostcard",
    "gr/lb": "grain/lb", "gr": "grain", "gr/ft³": "grain/ft^3", "gr/lb(moist)": "grain/lb", "Btu": "btu", "Btu/h": "btu/hour", "Btu/lb": "btu/lb",
    "dyn/cm": "dyne/cm", "dyn": "dyne", "°": "degree", "": "1", "kWh/kg": "kWh/kg", "Wh": "W hour", "%RH": "%", "%RH(ice)": "%",
    "1/min": "1/min", "1/h": "1/hour", "d": "day", "h": "hour", "cfh": "ft^3/hour", "mol/h": "mol/hour",
    "inH2O(4°C)": "inH2O", "inH2O(60°F)": "inH2O", "C": "C", "t": "tonne",
}

# Differences that stay, with the reason. Keys are (type, unit).
KNOWN = {
    ("Pressure", "inH2O(4°C)"): "GNU units has the conventional inch of water only (1000 kg/m³); the factor of NIST SP 811 for 39.2 °F is 28 ppm less",
    ("Pressure", "inH2O(60°F)"): "GNU units has the conventional inch of water only; the factor of NIST SP 811 for 60 °F is 0.1 % less",
}


def expression(typ, symbol):
    if typ == "StandardFlow":  # the volume; the reference state is not of GNU units
        symbol = re.sub(r"\(.*\)$", "", symbol)
        symbol = re.sub(r"^[NS](?=[mL])|^s(?=cf)", "", symbol)
    if symbol in SPELLED:
        return SPELLED[symbol]
    s = symbol.replace("(g)", "").replace("(display)", "").replace("(moist)", "").replace("/sq", "")
    for a, b in (("µ", "u"), ("Ω", "ohm"), ("²", "^2"), ("³", "^3"), ("·", " "), ("mmWG", "mmH2O")):
        s = s.replace(a, b)
    if typ == "Angle":
        s = s.replace("rad", "radian")  # "rad" is a dose there
    return re.sub(r"/h$", "/hour", s)


def ask(pairs):
    """The factors of all pairs, in one run of GNU units."""
    text = "".join(f"{a}\n{b}\n" for a, b in pairs)
    out = subprocess.run(["units", "-q", "-t", "-o", "%.17g"], input=text, capture_output=True, text=True,
                         env={"LC_ALL": "C.UTF-8", "PATH": "/usr/bin:/bin"}, check=False)
    lines = out.stdout.splitlines()
    if len(lines) != len(pairs):  # a unit it does not know takes one line where two were asked
        sys.exit(f"GNU units answered {len(lines)} of {len(pairs)} questions: {[l for l in lines if not re.match(r'^[-+0-9.e]+$', l)]}\n{out.stderr}")
    return lines


def main():
    data = json.load(sys.stdin)
    jobs = []
    for kind in data["kinds"]:
        for u in kind["Units"]:
            factor = Fraction(u["Num"], u["Den"]) * Fraction(10) ** u["Exp"]
            if u["Offset"]:
                for x in (-40, 0, 20, 98.6, 451):
                    scale = {"°C": "tempC", "°F": "tempF"}[u["Symbol"]]
                    want = (Fraction(str(x)) + Fraction(u["Offset"], 100)) * factor
                    jobs.append((kind["Type"], f"{x} {u['Symbol']}", want, f"{scale}({x})", "K"))
                continue
            jobs.append((kind["Type"], u["Symbol"], factor, expression(kind["Type"], u["Symbol"]), SI[kind["Type"]]))
    # What the library reads is its exact factor, rounded once.
    bad, used = 0, set()
    for typ, units in data["read"].items():
        kind = next(k for k in data["kinds"] if k["Type"] == typ)
        into = kind["Units"][data["into"][typ]]
        for u in kind["Units"]:
            exact = (1 + Fraction(u["Offset"], 100)) * Fraction(u["Num"], u["Den"]) * Fraction(10) ** u["Exp"]
            exact /= Fraction(into["Num"], into["Den"]) * Fraction(10) ** into["Exp"]
            if units[u["Symbol"] or "1"] != float(exact):
                bad += 1
                print(f"{typ}: 1 {u['Symbol']} is read as {units[u['Symbol'] or '1']!r}, its factor is {float(exact)!r}")
    answers = ask([(j[3], j[4]) for j in jobs])
    if len(sys.argv) > 1:
        version = subprocess.run(["units", "--version"], capture_output=True, text=True, check=True).stdout.splitlines()[0]
        with open(sys.argv[1], "w", encoding="utf-8") as f:
            f.write(f"# {version}: type, unit, expression asked, in, answer with %.17g. Written by .ci/crosscheck/units/gnu.py.\n")
            for (typ, symbol, _, a, b), line in zip(jobs, answers):
                f.write("\t".join((typ, symbol, a, b, line)) + "\n")
    for (typ, symbol, want, a, b), line in zip(jobs, answers):
        try:
            got = Fraction(line)
        except ValueError:
            bad += 1
            print(f"{typ} {symbol}: GNU units says {line!r} to {a!r} in {b!r}")
            continue
        off = abs(got / want - 1) if want else abs(got)
        if off > TOLERANCE:
            if (typ, symbol) in KNOWN:
                used.add((typ, symbol))
                continue
            bad += 1
            print(f"{typ} {symbol}: {float(want)!r} {b}, GNU units {line} ({float(off):.2g} relative)")
    for k in KNOWN.keys() - used:
        bad += 1
        print(f"{k}: explained, but there is no difference")
    print(f"GNU units: {len(jobs)} comparisons of {sum(len(k['Units']) for k in data['kinds'])} units, {len(used)} known differences, {bad} unexplained")
    sys.exit(1 if bad else 0)


main()
