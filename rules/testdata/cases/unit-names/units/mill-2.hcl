language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  circuit "direct_feed" {
    feeds = ["direct", "low_rollr"]
  }
  row "D" "3" {
    apply   = ["forward", "low_roller"]
    holding = ["low"]
    solenoids = ["a"]
  }
  component "drum" {
    kind   = drums
    serves = element.frward
  }
  component "valve" {
    kind   = seal_ring
    serves = [circuit, shift["2-9"], unit.x, spool.a, "line"]
  }
  step "wash" {
    after   = ["opn"]
    exposes = ["rings"]
    measure = ["endplay", "a plain sentence"]
    minutes = 3
  }
  failsafe "D" {
    gear = "4"
  }
}
