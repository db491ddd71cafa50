language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  component "roller" {
    frequency "burnt_frictions" {
      rate = 0.1
    }
  }
}
