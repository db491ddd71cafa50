language = 1
basis "invented" {
  note = "two speeds, one gearset: for tests"
}
unit "mill-2" {
  title    = "Two-speed with one gearset"
  drive    = rear
  controls = hydraulic
  train {
    input  = "turbine"
    output = "carrier"
    gearset "front" {
      kind    = single
      sun     = "sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [30, 60]
    }
  }
  clutch "forward" {
    joins = ["turbine", "ring"]
  }
  clutch "direct" {
    joins = ["turbine", "sun"]
  }
  brake "low" {
    holds = "sun"
  }
  one_way "low_roller" {
    stops = "sun"
  }
  circuit "line" {
    main  = true
    feeds = ["forward", "direct", "low"]
    tap   = "side port"
  }
  row "P" "P" {
    apply = []
  }
  row "N" "N" {
    apply = []
  }
  row "D" "1" {
    apply          = ["forward"]
    holding        = ["low_roller"]
    ratio          = 1.50
    engine_braking = false
    converter      = 2.0
  }
  row "D" "2" {
    apply          = ["forward", "direct"]
    holding        = []
    ratio          = 1.00
    engine_braking = true
  }
  row "L" "1" {
    apply          = ["forward", "low"]
    ratio          = 1.50
    engine_braking = true
  }
  pressure "idle" "D" {
    low  = "50 psi"
    high = "70 psi"
  }
  component "forward_plates" {
    title  = "forward clutch plates"
    kind   = friction_pack
    serves = [element.forward, element.low]
    formerly = ["forward_frictions"]
  }
  component "direct_plates" {
    title  = "direct clutch plates"
    kind   = friction_pack
    serves = element.direct
  }
  component "roller" {
    title  = "low roller clutch"
    kind   = roller
    serves = element.low_roller
  }
  component "line_rings" {
    title  = "rings of the feed"
    kind   = seal_ring
    serves = circuit.line
    frequency "cut_ring" {
      rate = 0.02
    }
  }
  component "fluid" {
    title  = "fluid"
    kind   = fluid
    serves = unit
  }
  step "pan_off" {
    title    = "pan off"
    stage    = in_vehicle
    minutes  = 20
    exposes  = ["fluid"]
    cautions = ["running"]
  }
  step "pull" {
    title    = "unit out"
    stage    = pulled
    pulls    = true
    minutes  = 150
    refit    = 150
    cautions = ["heavy"]
  }
  step "open" {
    title   = "drums out"
    after   = ["pull"]
    minutes = 30
    exposes = ["forward_plates", "direct_plates", "roller", "line_rings"]
    measure = ["end_play", "stack order of the plates"]
  }
  limit "end_play" {
    title = "end play"
    step  = "open"
    low   = "0.3 mm"
    high  = "0.9 mm"
  }
}
