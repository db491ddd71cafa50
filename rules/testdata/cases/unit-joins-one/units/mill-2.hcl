language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  clutch "third" {
    joins = ["turbine"]
  }
  joint "spline" {
    joins = ["carrier", "carrier"]
  }
}
