language = 1
basis "invented" {
  note = "for tests"
}
example "right" {
  unit   = "mill-2"
  expect = ["forward_plates"]
  reports "driver" {
    present = ["slips@D/1"]
  }
}
example "third place" {
  unit   = "mill-2"
  expect = ["roller"]
  within = 2
  reports "driver" {
    present = ["slips@D/1"]
  }
}
example "nowhere" {
  unit   = "mill-2"
  expect = ["fluid"]
  reports "driver" {
    present = ["slips@D/1"]
  }
}
example "fails" {
  unit   = "mill-2"
  expect = ["fluid"]
}
example "its cause comes first" {
  unit   = "mill-2"
  expect = ["forward_plates"]
  cause  = ["wrong_fluid"]
  reports "driver" {
    present = ["slips@D/1"]
  }
}
example "its cause comes second" {
  unit   = "mill-2"
  expect = ["forward_plates"]
  cause  = ["built_wrong"]
  reports "driver" {
    present = ["slips@D/1"]
  }
}
