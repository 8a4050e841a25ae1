"""Equivalent hours by scipy's quad, written out from the law of Arrhenius with scipy's constants. Run: dose.py > dose.json"""
import json
import sys

import numpy as np
from scipy import constants, integrate

# Exact since 2019; scipy's own R is cut off after ten digits.
R = constants.k * constants.N_A / 1000.0
ZERO = 273.15


def factor(celsius, reference, energy):
    return np.exp(energy / R * (1 / (reference + ZERO) - 1 / (celsius + ZERO)))


COURSES = {
    "steaming": ([0, 0.4, 1.2, 1.25, 2.0], [25, 121, 123.5, 121, 40]),
    "year": ([0, 2000, 2000, 5000, 8760], [30, 30, 80, 85, 20]),
    "cold": ([0, 10], [-200, 190]),
    "flat": ([3, 7.5], [134, 134]),
    "spike": ([0, 1e-6, 1000], [150, 20, 20]),
}
CASES = [("steaming", 85, 121), ("steaming", 0, 121), ("year", 85, 60), ("year", 60, 121), ("cold", 300, 150),
         ("cold", 5, 20), ("cold", 0.7, 20), ("flat", 75, 121), ("spike", 120, 60), ("steaming", 200, 20)]

rows = []
for name, energy, reference in CASES:
    hours, celsius = COURSES[name]
    linear = steps = 0.0
    for k in range(1, len(hours)):
        a, b = hours[k - 1], hours[k]
        if b == a:
            continue
        temperature = lambda h: celsius[k - 1] + (celsius[k] - celsius[k - 1]) * (h - a) / (b - a)
        # Cut into many parts, so that quad meets no steep end in one piece.
        parts = np.linspace(a, b, 41)
        for low, high in zip(parts[:-1], parts[1:]):
            linear += integrate.quad(lambda h: factor(temperature(h), reference, energy), low, high,
                                     epsabs=0, epsrel=1e-13)[0]
        steps += (b - a) * factor(celsius[k - 1], reference, energy)
    rows.append({"course": name, "activationEnergyKJPerMol": energy, "referenceCelsius": reference,
                 "linear": linear, "steps": steps})

# The table of usual factors: 10 degrees more, and 134 and 150 against 121 degrees C.
factors = [{"celsius": t, "reference": r, "energy": e, "factor": float(factor(t, r, e))}
           for t, r in [(130, 120), (134, 121), (150, 121), (60, 121), (-40, 20), (121.0001, 121)]
           for e in [1e-6, 70, 85, 100, 400]]
out = json.dumps({"courses": {k: {"hours": h, "celsius": c} for k, (h, c) in COURSES.items()}, "doses": rows,
                  "factors": factors, "electronVolt": constants.e * constants.N_A / 1000}, indent=1)
if len(sys.argv) > 1:
    open(sys.argv[1], "w").write(out + "\n")
else:
    print(out)
