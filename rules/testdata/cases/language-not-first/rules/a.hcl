kind "gear" {
  serves = [gearset]
}
language = 1
