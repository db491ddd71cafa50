language = 1
basis "invented" {
  note = "for tests"
}
mode "burnt_friction" {
  effect "dead" {
    drop = true
  }
}
finding "flare" {
  drop = true
}
