language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  title = <a>
}
kind "cog" {
  titel = "x"
}
mode "m" {
  of = [gaer]
  frequency = 2
  effect "noisy" {
    strength = likely
  }
}
