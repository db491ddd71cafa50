language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  of        = [friction_pack]
  formerly  = ["cut_ring"]
  frequency = 0.01
}
mode "dusty" {
  of        = [friction_pack]
  formerly  = ["burned_friction"]
  frequency = 0.01
}
