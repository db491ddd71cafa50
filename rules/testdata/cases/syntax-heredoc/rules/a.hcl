language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  title = <<END
long text
END
  serves = [gearset]
}
