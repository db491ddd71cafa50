# What the page's chart-only unit overrides and drops.
language = 1
basis "common practice" {
  note = "test data"
}
usual "unit" {
  front = "converter_off"
  circuit "line" {
    title = "line pressure"
    main  = true
  }
  component "governor" {
    title  = "governor"
    kind   = pump
    serves = [line]
    at     = "governor_look"
  }
  step "governor_look" {
    minutes = 30
  }
  step "leaks_look" {
    minutes = 8
  }
  step "converter_off" {
    minutes = 5
  }
}
usual "joint" {
  component "*" {
    title  = "*"
    kind   = shaft
    serves = [self]
    at     = "*_out"
  }
  step "*_out" {
    after   = ["previous"]
    minutes = 3
  }
}
usual "clutch" {
  component "*_piston" {
    title  = "* piston"
    kind   = piston
    serves = [self]
    at     = "*_pack_open"
  }
  step "*_pack_open" {
    after   = ["previous"]
    minutes = 5
  }
}
