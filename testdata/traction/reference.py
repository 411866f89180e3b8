#!/usr/bin/env python3
"""Writes the outputs of the sets in this folder anew from their inputs.

A reference model apart from the project: plain Python, one second after the
other, from the equations of model/traction's package comment. Run it in this
folder; with --check it compares with what the files hold and changes nothing.
"""
import json
import math
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
PUBLISHED = HERE.parent.parent / "model" / "schedule" / "published"
G, GAS = 9.80665, 287.05287  # m/s2, J/(kg K): ISO 80000-3, ISO 2533
SPEEDS = (50, 80, 90, 100, 110, 120, 130)
PHASES = {"low": (0, 589), "medium": (589, 1022), "high": (1022, 1477), "extra_high": (1477, 1800)}


def speeds(name):
    """Speeds in m/s, one a second."""
    lines = [l for l in (PUBLISHED / f"{name}.csv").read_text().splitlines() if l]
    scale = 1 / 3.6 if any("km/h" in l for l in lines if l.startswith("#")) else 0.44704
    found = []
    for line in lines:
        if not line.startswith("#"):
            found += [float(x) * scale for x in line.split(",")[1:] if x]
    return found


def seconds(v):
    """Mean speed, acceleration and duration of each second."""
    return [((a + b) / 2, b - a, 1.0) for a, b in zip(v, v[1:])]


def derive(x):
    warm = x["outside_temperature"]
    cells = x["series"] * x["parallel"]
    energy = cells * x["cell_charge"] * x["cell_voltage"]
    low, high = x["cabin_low"], x["cabin_high"]
    cabin = x["cabin_conductance"] * (max(0, low - warm) / x["heating_performance"] + max(0, warm - high) / x["cooling_performance"])
    load = x["gross_mass"] - x["kerb_mass"] - 75 - 25
    return {
        "test_mass": x["kerb_mass"] + 300 * 0.45359237,
        "wltp_test_mass": x["kerb_mass"] + 75 + 25 + 0.15 * load,
        "air_density": x["air_pressure"] / (GAS * warm),
        "cell_count": cells,
        "pack_energy": energy,
        "usable_energy": energy * x["usable_share"] * x["energy_temperature_factor"] * x["state_of_health"],
        "pack_voltage": x["series"] * x["cell_voltage"],
        "pack_resistance": x["cell_resistance"] * x["series"] / x["parallel"] + x["connection_resistance"],
        "auxiliary_total": x["auxiliary_power"] + cabin,
    }


def road(x, d, mass):
    """Rolling force and its slope, speed term, air factor and grade force."""
    grade = mass * G * math.sin(x["road_slope"])
    if x["coastdown_f0"] is not None:
        share = x["coastdown_mass_share"]
        f0 = x["coastdown_f0"] * (1 - share + share * mass / x["coastdown_mass"])
        return f0, 0.0, x["coastdown_f1"], x["coastdown_f2"], grade
    warmth = 1 - x["rolling_temperature_factor"] * (x["outside_temperature"] - 293.15)
    rolling = mass * G * math.cos(x["road_slope"]) * x["rolling_coefficient"] * warmth
    return rolling, rolling * x["rolling_speed_factor"], 0.0, 0.5 * d["air_density"] * x["drag_coefficient"] * x["frontal_area"], grade


def drive(x, d, mass, steps):
    """Energies in J, powers in W."""
    rolling, slope, term, air, grade = road(x, d, mass)
    w, eta = x["head_wind"], x["gear_efficiency"]
    limit = math.inf if x["regen_power_limit"] == "inf" else x["regen_power_limit"]
    u, r = d["pack_voltage"], d["pack_resistance"]
    parts = {k: [] for k in ("rolling", "speed_term", "aero", "grade", "kinetic", "friction_brakes", "gear", "drive_unit",
                             "auxiliaries", "battery", "terminal", "positive_wheel", "negative_wheel", "recovered_wheel")}
    chemical, infeasible, way = [], 0, []
    for v, a, dt in steps:
        n = v * x["gear_ratio"] / x["wheel_radius"]
        inertia = mass * (1 + x["rotating_mass_share"]) * a
        forces = {"rolling": rolling + slope * v, "speed_term": term * v, "aero": air * (v + w) * abs(v + w), "grade": grade, "kinetic": inertia}
        wheel = sum(forces.values()) * v if v > 0 else 0.0
        low, high = x["regen_fade_low"], x["regen_fade_high"]
        fade = 1.0 if v >= high else 0.0 if v <= low else (v - low) / (high - low)
        back = min(x["regen_share"] * fade * max(-wheel, 0), limit)
        shaft = max(wheel, 0) / eta - eta * back
        torque = shaft / n if v > 0 else 0.0
        unit = x["torque_loss"] * torque ** 2 + x["spin_loss"] * n + x["spin_cubic_loss"] * n ** 3 + x["idle_loss"]
        power = shaft + unit + d["auxiliary_total"]
        under = u * u - 4 * r * power
        way.append(v * dt)
        if under < 0:
            infeasible += 1
            continue
        current = 2 * power / (u + math.sqrt(under))
        chemical.append((u * current, dt))
        for k, f in forces.items():
            parts[k].append(f * v * dt)
        for k, p in (("friction_brakes", max(-wheel, 0) - back), ("gear", max(wheel, 0) * (1 / eta - 1) + back * (1 - eta)),
                     ("drive_unit", unit), ("auxiliaries", d["auxiliary_total"]), ("battery", r * current ** 2), ("terminal", power),
                     ("positive_wheel", max(wheel, 0)), ("negative_wheel", max(-wheel, 0)), ("recovered_wheel", back)):
            parts[k].append(p * dt)
    distance = math.fsum(way)
    out = {k: math.fsum(p) / (3.6 * distance) for k, p in parts.items()}
    out["total"] = math.fsum(p * dt for p, dt in chemical) / (3.6 * distance)
    out["discharge_only"] = math.fsum(max(0, p) * dt for p, dt in chemical) / (3.6 * distance)
    if chemical:
        out["min_power"], out["max_power"] = min(chemical)[0], max(chemical)[0]
    if infeasible:
        out = dict.fromkeys(list(parts) + ["total", "discharge_only", "min_power", "max_power"])
    out.update(infeasible_steps=infeasible, distance_km=distance / 1000, max_terminal_power_possible=u * u / (4 * r))
    return out


def model(x):
    d = derive(x)
    city, highway = x["model_error_city"], x["model_error_highway"]
    traces = {name: speeds(name) for name in ("udds", "hwfet", "us06", "sc03", "nycc", "wltc")}
    out = {"derived": d, "schedules": {}, "steady": {}}
    for name, v in traces.items():
        out["schedules"]["wltc_class3b" if name == "wltc" else name] = drive(x, d, d["test_mass"], seconds(v))
    for kmh in SPEEDS:
        out["steady"][str(kmh)] = drive(x, d, d["test_mass"], [(kmh / 3.6, 0.0, 3600.0)])
    out["wltp"] = drive(x, d, d["wltp_test_mass"], seconds(traces["wltc"]))
    out["wltp_phases"] = {k: drive(x, d, d["wltp_test_mass"], seconds(traces["wltc"][a:b + 1])) for k, (a, b) in PHASES.items()}

    def reach(total, error):
        return None if total is None else d["usable_energy"] / 3600 / (total * error)

    def both(a, b):
        return None if a is None or b is None else 0.55 * a + 0.45 * b

    def times(a, f):
        return None if a is None else a * f
    udds, hwfet = out["schedules"]["udds"]["total"], out["schedules"]["hwfet"]["total"]
    a, b = reach(udds, city), reach(hwfet, highway)
    factor, plug = x["label_factor"], x["recharge_efficiency"]
    ac = [None if e is None else e * error / plug for e, error in ((udds, city), (hwfet, highway))]
    out["label"] = {
        "city_range_km": a, "highway_range_km": b, "combined_range_km": both(a, b),
        "label_city_range_km": times(a, factor), "label_highway_range_km": times(b, factor), "label_combined_range_km": times(both(a, b), factor),
        "city_ac_wh_per_km_unadjusted": ac[0], "highway_ac_wh_per_km_unadjusted": ac[1],
        "combined_ac_wh_per_km_label": None if None in ac else (0.55 * ac[0] + 0.45 * ac[1]) / factor,
    }
    out["wltc_range_km"] = reach(out["wltp"]["total"], math.sqrt(city * highway))
    out["steady_range_km"] = {k: reach(s["total"], highway) for k, s in out["steady"].items()}
    return out


def apart(got, want, path, worst):
    if isinstance(want, dict):
        for k in want:
            apart(got[k], want[k], f"{path}.{k}", worst)
    elif want is None or got is None:
        if got is not want:
            worst.append((math.inf, path))
    else:
        worst.append((abs(got - want) / max(abs(want), 1e-3), path))


def main():
    for path in sorted(HERE.glob("*.json")):
        text = json.loads(path.read_text())
        made = model(text["inputs"])
        if "--check" in sys.argv:
            worst = []
            apart(made, text["outputs"], path.stem, worst)
            print("%.1e at %s" % max(worst))
            continue
        text["outputs"] = made
        path.write_text(json.dumps(text, indent=1) + "\n")


main()
