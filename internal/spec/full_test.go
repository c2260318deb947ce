package spec_test

// Every field of every kind of file, so that each tag has something to break.
// The figures are invented and mean nothing.

const fullSet = `set:
  name: full
  mark: m
  construction: double-wound
  flex: {cores: 3, length: 2 m, area: 0.75 mm²}
  mains: {taps: [200 V, 230 V], tap: 230 V, profile: uk}
  watts: 52 W
  frequency: 50 Hz
  rectifier: EZ80
  ht-winding: {volts: 275 V, taken: open}
  transformer: {primary: 46 Ω, half-a: 260 Ω, half-b: 285 Ω, rating: 55 VA, heater-rating: 3 A}
  reservoir: {capacitance: 32 µF, rating: 450 V}
  smoothing: {kind: resistor, resistance: 1.2 kΩ}
  second: {capacitance: 32 µF, rating: 450 V}
  bleed: {none: false, resistance: 220 kΩ, at: HT2}
  ht-minus: chassis
  output-transformer: {primary: 380 Ω, speaker: 3 Ω, load: own speaker}
  valves: [ECH81, EL84]
  output-stage:
    bias: cathode
    valve: EL84
    cathode-resistor: 135 Ω
    grid-leak: 470 kΩ
    screen-resistor: 1 kΩ
    coupling: {capacitance: 10 nF, rating: 400 V, anode-warm: 100 V, rail: HT2, rail-volts: 224 V}
  dial-lamps: {count: 2, current: 0.3 A}
  printed:
    ht1: 264 V
    ht2: 224 V
    anode: 248 V
    screen: 220 V
    cathode: 6 V
    heater: 6.3 V
    mains: 230 V
    meter-input: 10 MΩ
    meter-ohms-per-volt: 1 kΩ/V
    meter-range: 300 V
  renewed: [all electrolytics]
  measured:
    - {check: heater-winding, value: 0.1 Ω, meter: general-digital, date: 2026-11-25}
  signal-stages:
    - {valve: ECH81, cathode-resistor: 200 Ω, screen-resistor: 18 kΩ}
`

const fullMeter = `meter:
  name: full
  kind: digital
  input: 10 MΩ
  ohms-per-volt: 20 kΩ/V
  category: CAT III 600 V
  max-volts: 600 V
  true-rms: true
  auto-range: true
  functions:
    - function: insulation
      percent: 5 %
      digits: 2
      null: true
      test-volts: 250 V
      min-current: 3 mA
      ranges:
        - {top: 5 GΩ, digit: 1 MΩ}
`

const fullBench = `bench:
  name: full
  operator: anna
  place: back room
  key: keys/anna
  meters:
    - {letter: A, sheet: general-digital, stays: set}
  tester: insulation-tester
  source: {volts: 9.3 V}
  discharge-tool: 10 kΩ
  lamps: [40 W, 100 W]
  lamp-volts: 230 V
  lamp-by-pass: true
  variable-transformer: true
  isolating-transformer: grey box
  rcd: true
  thermometer: true
  touch-network: uk
  leakage-supply: {volts: 250 V, series: 100 kΩ}
  training: true
`

const fullProcedure = `procedure: full
edition: 1
for: {construction: double-wound}
stages:
  - stage: one
    part: open
    supply: raised
    note: a note
    needs: [hold-1]
    steps:
      - check: a
        narrower: {min: 2 GΩ, max: 4 GΩ, because: workshop rule}
        after: [5 s, 60 s]
        hold: hold-2
        cold: 180 s
        raise: [25 %, 50 %]
        dwell: 60 s
        read: [lamp]
        note: another
`

const fullAnswers = `answers:
  lines:
    - {at: bench, say: "a", key: enter, wait: 12h}
`
