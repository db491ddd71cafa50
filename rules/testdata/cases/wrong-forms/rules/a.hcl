language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  title     = burnt
  of        = "friction_pack"
  frequency = "0.01"
  look      = ["x"]
}
kind "gear" {
  outside = "yes"
  serves  = [cog]
}
