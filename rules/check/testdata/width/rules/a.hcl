language = 1
basis "invented" {
  note = "for tests"
}
cause "cause_00" {
  frequency = 0.01
}
cause "cause_01" {
  frequency = 0.01
}
cause "cause_02" {
  frequency = 0.01
}
cause "cause_03" {
  frequency = 0.01
}
cause "cause_04" {
  frequency = 0.01
}
cause "cause_05" {
  frequency = 0.01
}
cause "cause_06" {
  frequency = 0.01
}
cause "cause_07" {
  frequency = 0.01
}
cause "cause_08" {
  frequency = 0.01
}
cause "cause_09" {
  frequency = 0.01
}
cause "cause_10" {
  frequency = 0.01
}
cause "cause_11" {
  frequency = 0.01
}
cause "cause_12" {
  frequency = 0.01
}
mode "mode_00" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_01" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_02" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_03" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_04" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_05" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_06" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_07" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_08" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_09" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_10" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_11" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
mode "mode_12" {
  of        = [friction_pack]
  frequency = 0.001
  effect "slips" {
    strength = 0.5
  }
  because "cause_00" {
    strength = 0.1
  }
  because "cause_01" {
    strength = 0.1
  }
  because "cause_02" {
    strength = 0.1
  }
  because "cause_03" {
    strength = 0.1
  }
  because "cause_04" {
    strength = 0.1
  }
  because "cause_05" {
    strength = 0.1
  }
  because "cause_06" {
    strength = 0.1
  }
  because "cause_07" {
    strength = 0.1
  }
  because "cause_08" {
    strength = 0.1
  }
  because "cause_09" {
    strength = 0.1
  }
  because "cause_10" {
    strength = 0.1
  }
  because "cause_11" {
    strength = 0.1
  }
  because "cause_12" {
    strength = 0.1
  }
}
