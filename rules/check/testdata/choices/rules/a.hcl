language = 1
basis "invented" {
  note = "for tests"
}
check "when" {
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["slips@*:cold", "slips@*:hot"]
  asks     = "When?"
  choice "always" {
    title   = "always"
    present = ["slips@*:cold", "slips@*:hot"]
  }
  choice "only_hot" {
    title   = "only hot"
    present = ["slips@*:hot"]
  }
  choice "both" {
    title   = "both"
    present = ["slips@*:cold", "slips@*:hot"]
    absent  = ["slips@*:hot"]
  }
  choice "all" {
    title   = "all the time"
    present = ["slips@*:hot", "slips@*:cold"]
  }
  choice "foot" {
    title   = "with a heavy foot"
    present = ["slips@*:heavy_foot"]
    unknown = ["slips@*:cold", "slips@*:hot"]
  }
}
check "what" {
  stage   = interview
  minutes = 1
  asks    = "What?"
  choice "slips" {
    title = "it slips"
  }
}
check "many" {
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["slips@*"]
  asks     = "How many?"
  counts "times" {
  }
}
