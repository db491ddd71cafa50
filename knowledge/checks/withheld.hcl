# What several checks wait for.
language = 1

withheld "low_fluid" {
  if     = "fluid_low"
  reason = "set the fluid level first"
}

withheld "water_in_fluid" {
  if     = "fluid_milky"
  reason = "do not drive with water in the fluid"
}
