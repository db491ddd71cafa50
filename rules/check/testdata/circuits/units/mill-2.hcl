language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  circuit "second" {
    main  = true
    feeds = ["low"]
  }
  circuit "dead_end" {
  }
}
