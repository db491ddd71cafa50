language = 1
caution "running" {
  text = "Chocks and brakes. The maker's service procedure comes first."
}
caution "heavy" {
  text = "Two people and a jack. The maker's service procedure comes first."
}
