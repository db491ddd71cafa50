language = 1
basis "invented" {
  note = "what the snippets of the page name and do not show"
}
unit "northfork-4" {
  clutch "reverse" {
    joins = ["turbine", "large_sun"]
  }
  row "R" "R" {
    apply = ["reverse", "low_reverse"]
  }
  row "D" "2" {
    apply = ["forward", "overdrive_band"]
  }
  row "D" "3" {
    apply = ["forward", "reverse"]
  }
  component "pump" {
    kind   = pump
    serves = circuit.line
  }
  component "pump_bushing" {
    kind   = pump
    serves = circuit.line
  }
  step "valve_body" {
  }
  step "wash_parts" {
  }
}
