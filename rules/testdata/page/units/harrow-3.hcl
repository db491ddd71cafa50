language = 1
basis "invented" {
  note = "what the snippets of the page name and do not show"
}
unit "harrow-3" {
  like = "northfork-4"
  component "front_clutch_plates" {
    kind   = friction_pack
    serves = element.reverse
  }
}
