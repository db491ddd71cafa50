language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  title = a.*.b
  bench = a[*]
}
