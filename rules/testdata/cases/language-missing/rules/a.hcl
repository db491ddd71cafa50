kind "gear" {
  serves = [gearset]
}
