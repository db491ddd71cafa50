language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  brake "spare" {
    holds = "ring"
  }
  one_way "idle_roller" {
    stops = "ring"
  }
  converter_clutch "lockup" {
  }
  circuit "spare_feed" {
    feeds = ["spare"]
  }
}
