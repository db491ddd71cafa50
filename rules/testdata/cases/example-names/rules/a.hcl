language = 1
basis "invented" {
  note = "for tests"
}
example "a" {
  unit   = "mill-2"
  expect = ["forward_plate"]
  within = 0
  reports "drivr" {
    present = ["slips@D/5", "slips@*", "slips"]
    absent  = ["acts_as@D/1", "acts_as_9@D/1"]
  }
}
example "b" {
  unit   = "mil-2"
  expect = ["roller"]
}
