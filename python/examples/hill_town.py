"""Twenty litres over the tap of a hill town: from the sheet of the waterworks to grams on the scale.

A notebook as a script: each `# %%` begins a cell. The town, its water and the wishes are made up.
"""

# %% What the waterworks report, as it stands on their sheet.
from __future__ import annotations

import springwright
from springwright.request import BlendRequest, SaltChoice, SourceWater, Wish

tap: SourceWater = {
    "name": "hill town main",
    "temperature_c": 12,
    "analysis": {
        "Ca": "21.5 mg/L",
        "Mg": "3.1 mg/L",
        "Na": "8.2 mg/L",
        "K": "1.1 mg/L",
        "Cl": "12.0 mg/L",
        "SO4": "14.0 mg/L",
        "alkalinity": "52 mg/L as CaCO3",
    },
}

# %% How hard is it, in the degrees in which old machines are set?
calcium = springwright.convert(of="Ca", measured="21.5 mg/L", unit="mmol/L").measured
print(f"calcium of the tap: {calcium.value:.3f} {calcium.unit}")

# %% What is on the shelf. Epsom salt must say its water, or the request is refused.
shelf: list[SaltChoice] = [
    {"salt": "magnesium_sulfate_heptahydrate"},
    {"salt": "sodium_bicarbonate", "price_per_kg": 3.2},
    {"formula": "CaCl2·2H2O", "assay_percent": 98.5, "lot": "KB-0417"},
]
try:
    springwright.solve_blend(
        volume_l=20,
        waters=[tap],
        salts=[{"salt": "magnesium sulfate"}],
        target=[{"of": "Mg", "near": "20 mg/L"}],
        balances=[{"step_g": 0.01, "most_g": 200}],
    )
except springwright.RequestRefused as refused:
    print(refused)

# %% The water that is wanted.
wishes: list[Wish] = [
    {"of": "Ca", "near": "60 mg/L", "tolerance_percent": 10, "weight": 2},
    {"of": "Mg", "at_least": "15 mg/L", "at_most": "25 mg/L"},
    {"of": "HCO3", "near": "180 mg/L"},
]
request: BlendRequest = {
    "volume_l": 20,
    "temperature_c": 18,
    "waters": [tap],
    "salts": shelf,
    "target": wishes,
    "balances": [{"step_g": 0.01, "least_g": 0.5, "most_g": 200}],
}
blend = springwright.solve_blend(request)
blend  # in a notebook this cell shows the page: pour, weigh, the finished water

# %% The same in plain words.
print(f"\n{blend.status}: on {blend.pourings[0].volume_l:.2f} L of {blend.pourings[0].water}")
for weighing in blend.weighings:
    print(f"  {weighing.mass_g:8.2f} g  {weighing.name}  {weighing.formula}")
for wish in blend.reached:
    got = f"{wish.got.value:.1f} {wish.got.unit}" if wish.got else "nothing"
    print(f"  {wish.of:5} {wish.asked}: {got}, {'met' if wish.met else 'not met'}")
for caution in blend.cautions:
    print(f"  caution: {caution.text}")

# %% The same water in a keg, a carboy and a cask: one row each, whatever becomes of the others.
sizes = {"keg": 19.0, "carboy": 25.0, "cask": 225.0, "thimble": -1.0}
rows = springwright.solve_blend_many({name: {**request, "volume_l": litres} for name, litres in sizes.items()})
for row in rows:
    if row.answer:
        grams = " + ".join(f"{weighing.mass_g:.2f}" for weighing in row.answer.weighings)
        print(f"{row.id}: {grams} g")
    elif row.problem:
        print(f"{row.id}: {row.status}, {row.problem.faults[0].message}")

# %% Kept on disk, an answer comes back as it was.
kept = blend.to_json()
assert springwright.Blend.from_json(kept) == blend
