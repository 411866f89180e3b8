package study

// Invented numbers throughout.
const cellsFile = `vehicles:
  cells:
    cell_mass: {between: [95 g, 98 g], source: invented}
    cell_charge: 6.6 Ah
    cell_voltage: 3.6 V
    cell_diameter: 24 mm
    cell_height: 77 mm
    cell_resistance: {lognormal: {median: 16 mohm, factor: 1.1}}
  unused:
    cell_mass: 4 g
inputs:
  outside_temperature: 3 degC
  air_pressure: 100 kPa
`

const packStudy = `format: 1
study: plain-pack
about: Invented numbers for a test.
inputs:
  drag_coefficient: {pert: [0.225, 0.235, 0.250], source: coast-down of a sister car, how_known: filed}
  rolling_coefficient: {normal: {mean: 0.0085, sd: 0.0006}, min: 0.006}
  frontal_area: {between: [2.28 m2, 2.34 m2]}
  outside_temperature: 23 degC
  usable_share: {value: 94 %, source: invented}
own:
  bond_share: {between: [0.8, 0.95], meaning: share of the footprint that is bonded}
  slack: {formula: 2 * bond_share * 3 kg, unit: g}
vehicles:
  boxed:
    kerb_mass: 1950(30) kg
    pack_mass: {likely: 450 kg, within: 3 %}
    series: 101
    parallel: 38
    layout: hexagonal
    cell_mass: {between: [95 g, 98 g], source: invented}
    cell_charge: 6.6 Ah
    cell_voltage: 3.6 V
    cell_diameter: 24 mm
    cell_height: 77 mm
    cell_resistance: {lognormal: {median: 16 mohm, factor: 1.1}}
  bonded:
    based_on: boxed
    bonded_height: 70 mm
    filler_density: {triangular: [350, 550, 900], unit: kg/m3}
    fill_share: {formula: 0.6 * bond_share}
    pack_other_mass: {percentiles: {10: 60 kg, 50: 70 kg, 90: 85 kg}}
    displaced: {floor_panel: 20(3) kg, cross_members: {between: [8 kg, 14 kg]}}
    added: {sill_inserts: {between: [0 kg, 8 kg]}}
    certified: yes
    size_for: cells
outputs:
  saving_per_cell: {formula: (boxed.kerb_mass - bonded.kerb_mass) / bonded.cell_count, unit: g}
  warmer: outside_temperature + 5 K
claims:
  lighter:  {of: bonded.kerb_mass_change, announced: -6 %, rounded_to: 1 %, sense: at_least, said_by: launch slide}
  further:  {of: bonded.label_range_change, announced: 9 %, rounded_to: 1 %, sense: at_least}
  short:    {of: bonded.pack_height, announced: 80 mm, sense: at_most}
  as_light: {of: bonded.kerb_mass_change, announced: -6 %, rounded_to: 1 %, sense: about}
  about_it: {of: bonded.pack_mass, announced: 400 kg, rounded_to: 10 kg, sense: about}
  cooler:   {of: warmer, announced: 30 degC, rounded_to: 1 K, sense: at_most}
  no_loss:  {of: bonded.kerb_mass_change, announced: -6 %, rounded_to: 1 %, sense: at_most}
  same:     {holds: bonded.pack_mass <= boxed.pack_mass and bonded.displaced.floor_panel < 25 kg}
sample: {rows: 10_001, design: latin, seed: 18446744073709551615}
indices: {half_width: 1 %, at_most: 4_000_000, of: [further, bonded.kerb_mass, all_claims]}
intervals: 90 %
coverage: 0.9
keep: all
`

const formulaStudy = `format: 1
model: formulas
inputs:
  length: {between: [2 m, 3 m], meaning: of the beam}
  load: {log_between: [10, 20], unit: kN}
  count: {one_of: {2: 1, 3: 2, 4: 1}}
  grade: {one_of: [235 MPa, 355 MPa]}
  price: 3.10 EUR/kg
  slender: {formula: length / 5 cm}
outputs:
  moment: {formula: load * length / 4, unit: kN m, meaning: at midspan}
  cost: price * 20 kg * count
claims:
  holds_up: {holds: "if(count > 3, moment < 12 (kN m), moment < 11 (kN m))"}
`
