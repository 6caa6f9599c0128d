"""Answers points of seawater with TEOS-10 (GSW-Python), for gsw.test.ts.

Standard input: a JSON array of [salinity, temperature, pressure, conductivity] rows: Practical Salinity, degC (ITS-90),
sea pressure in dbar, mS/cm. Standard output: a JSON object of columns, one number for each row.
"""
import json
import sys

import gsw
import numpy as np

salinity, temperature, pressure, conductivity = np.array(json.load(sys.stdin), dtype=float).T
# Without a place the composition of the sea is unknown: Reference Salinity stands for Absolute Salinity.
absolute = gsw.SR_from_SP(salinity)
exact = gsw.rho_t_exact(absolute, temperature, 0.0)
# At the surface potential temperature is temperature itself.
oxygen = gsw.O2sol_SP_pt(salinity, temperature)

json.dump(
    {
        "version": gsw.__version__,
        "conductivityMsCm": gsw.C_from_SP(salinity, temperature, pressure).tolist(),
        "salinity": gsw.SP_from_C(conductivity, temperature, pressure).tolist(),
        "densityKgM3": gsw.rho(absolute, gsw.CT_from_t(absolute, temperature, 0.0), 0.0).tolist(),
        "densityExactKgM3": exact.tolist(),
        "oxygenUmolKg": oxygen.tolist(),
        "oxygenMgL": (oxygen * 31.9988e-3 * exact / 1000.0).tolist(),
    },
    sys.stdout,
)
