language = 1
basis "invented" {
  note = "for tests"
}
mode "roller_seized" {
  of        = [roller]
  frequency = 0.01
  effect "seized" {
    strength = 0.5
  }
}
mode "drags" {
  of        = [friction_pack]
  frequency = 0.01
  effect "drags" {
    strength = 0.5
  }
}
