language = 1
basis "invented" {
}
family "one" {
  variant "base" {
    unit = "nothing"
  }
}
family "two" {
  feature "yoke" {
    kind     = size
    cautions = ["nowhere"]
  }
  feature "tag" {
    kind = text
  }
  feature "year" {
    kind = year
  }
  feature "unused" {
    kind = there
  }
  feature "coil" {
    kind = size
  }
  variant "a" {
    unit = "northfork-4"
    has "yoke" {
      size = "1.5 in"
    }
    has "tag" {
      pattern = ["*"]
    }
    has "year" {
      from = 1999
      to   = 1990
    }
    has "yolk" {
      there = true
    }
    has "coil" {
      size      = "20 ohm at 20 degC"
      tolerance = "1 mm"
    }
  }
  variant "b" {
    unit = "northfork-4"
    has "yoke" {
      size      = "1.5 in"
      tolerance = "0 in"
    }
    has "tag" {
      there = true
    }
    has "coil" {
      size      = "20 ohm at 20 degC"
      tolerance = "1 ohm"
    }
  }
  fit "one" {
    bore  = "tag"
    shaft = "yoke"
  }
  fit "two" {
    bore  = "coil"
    shaft = "yoke"
  }
}
