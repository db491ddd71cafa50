language = 1
basis "invented" {
  note = "for tests"
}
mode "dull" {
  of = [friction_pack]
}
mode "everywhere" {
  of        = [friction_pack]
  frequency = 0.9
  effect "slips" {
    strength = 0.5
  }
}
kind "cable" {
}
mode "frayed" {
  of        = [cable]
  frequency = 0.01
  effect "weak" {
    strength = 0.5
  }
}
kind "pipe" {
  serves = [unit]
}
mode "rusty" {
  of        = [pipe]
  frequency = 0.01
  duty      = true
  effect "weak" {
    strength = 0.5
  }
}
