language = 1
mode "burnt_friction" {
  frequency = 0.03
}
