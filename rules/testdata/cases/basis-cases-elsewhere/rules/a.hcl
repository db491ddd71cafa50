language = 1
basis "recalled" {
  cases = 3
}
