# Trouble codes that say nothing about a part on their own: their definitions
# (SAE J2012; sources in codes.hcl), so that a pasted list is understood.
language = 1
basis "recalled" {
  note = "leaks are of the right size only"
}

code "P0700" {
  title = "Transmission Control System (MIL Request)"
  leak  = 0.25
}

code "P0701" {
  title = "Transmission Control System Range/Performance"
  leak  = 0.02
}

code "P0704" {
  title = "Clutch Switch Input Circuit"
  leak  = 0.002
}

code "P0725" {
  title = "Engine Speed Input Circuit"
  leak  = 0.002
}

code "P0726" {
  title = "Engine Speed Input Circuit Range/Performance"
  leak  = 0.002
}

code "P0727" {
  title = "Engine Speed Input Circuit No Signal"
  leak  = 0.002
}

code "P0728" {
  title = "Engine Speed Input Circuit Intermittent"
  leak  = 0.002
}

code "P0737" {
  title = "TCM Engine Speed Output Circuit"
  leak  = 0.002
}

code "P0738" {
  title = "TCM Engine Speed Output Circuit Low"
  leak  = 0.002
}

code "P0739" {
  title = "TCM Engine Speed Output Circuit High"
  leak  = 0.002
}

code "P0785" {
  title = "Shift/Timing Solenoid"
  leak  = 0.002
}

code "P0786" {
  title = "Shift/Timing Solenoid Range/Performance"
  leak  = 0.002
}

code "P0787" {
  title = "Shift/Timing Solenoid Low"
  leak  = 0.002
}

code "P0788" {
  title = "Shift/Timing Solenoid High"
  leak  = 0.002
}

code "P0789" {
  title = "Shift/Timing Solenoid Intermittent"
  leak  = 0.002
}

code "P0790" {
  title = "Normal/Performance Switch Circuit"
  leak  = 0.002
}

code "P0791" {
  title = "Intermediate Shaft Speed Sensor A Circuit"
  leak  = 0.002
}

code "P0792" {
  title = "Intermediate Shaft Speed Sensor A Circuit Range/Performance"
  leak  = 0.002
}

code "P0793" {
  title = "Intermediate Shaft Speed Sensor A Circuit No Signal"
  leak  = 0.002
}

code "P0794" {
  title = "Intermediate Shaft Speed Sensor A Circuit Intermittent"
  leak  = 0.002
}

code "P0810" {
  title = "Clutch Position Control Error"
  leak  = 0.002
}

code "P0813" {
  title = "Reverse Output Circuit"
  leak  = 0.002
}

code "P0814" {
  title = "Transmission Range Display Circuit"
  leak  = 0.002
}

code "P0815" {
  title = "Upshift Switch Circuit"
  leak  = 0.002
}

code "P0816" {
  title = "Downshift Switch Circuit"
  leak  = 0.002
}

code "P0817" {
  title = "Starter Disable Circuit"
  leak  = 0.002
}

code "P0818" {
  title = "Driveline Disconnect Switch Input Circuit"
  leak  = 0.002
}

code "P0820" {
  title = "Gear Lever X-Y Position Sensor Circuit"
  leak  = 0.002
}

code "P0821" {
  title = "Gear Lever X Position Circuit"
  leak  = 0.002
}

code "P0822" {
  title = "Gear Lever Y Position Circuit"
  leak  = 0.002
}

code "P0823" {
  title = "Gear Lever X Position Circuit Intermittent"
  leak  = 0.002
}

code "P0824" {
  title = "Gear Lever Y Position Circuit Intermittent"
  leak  = 0.002
}

code "P0825" {
  title = "Gear Lever Push-Pull Switch (Shift Anticipate)"
  leak  = 0.002
}

code "P0826" {
  title = "Up and Down Shift Switch Circuit"
  leak  = 0.002
}

code "P0827" {
  title = "Up and Down Shift Switch Circuit Low"
  leak  = 0.002
}

code "P0828" {
  title = "Up and Down Shift Switch Circuit High"
  leak  = 0.002
}

code "P0830" {
  title = "Clutch Pedal Switch A Circuit"
  leak  = 0.002
}

code "P0831" {
  title = "Clutch Pedal Switch A Circuit Low"
  leak  = 0.002
}

code "P0832" {
  title = "Clutch Pedal Switch A Circuit High"
  leak  = 0.002
}

code "P0833" {
  title = "Clutch Pedal Switch B Circuit"
  leak  = 0.002
}

code "P0834" {
  title = "Clutch Pedal Switch B Circuit Low"
  leak  = 0.002
}

code "P0835" {
  title = "Clutch Pedal Switch B Circuit High"
  leak  = 0.002
}

code "P0836" {
  title = "Four Wheel Drive Switch Circuit"
  leak  = 0.002
}

code "P0837" {
  title = "Four Wheel Drive Switch Circuit Range/Performance"
  leak  = 0.002
}

code "P0838" {
  title = "Four Wheel Drive Switch Circuit Low"
  leak  = 0.002
}

code "P0839" {
  title = "Four Wheel Drive Switch Circuit High"
  leak  = 0.002
}

code "P0856" {
  title = "Traction Control Input Signal"
  leak  = 0.002
}

code "P0857" {
  title = "Traction Control Input Signal Range/Performance"
  leak  = 0.002
}

code "P0858" {
  title = "Traction Control Input Signal Low"
  leak  = 0.002
}

code "P0859" {
  title = "Traction Control Input Signal High"
  leak  = 0.002
}

code "P0860" {
  title = "Gear Shift Module Communication Circuit"
  leak  = 0.002
}

code "P0861" {
  title = "Gear Shift Module Communication Circuit Low"
  leak  = 0.002
}

code "P0862" {
  title = "Gear Shift Module Communication Circuit High"
  leak  = 0.002
}

code "P0898" {
  title = "Transmission Control System MIL Request Circuit Low"
  leak  = 0.002
}

code "P0899" {
  title = "Transmission Control System MIL Request Circuit High"
  leak  = 0.002
}

code "P2712" {
  title = "Hydraulic Power Unit Leakage"
  leak  = 0.002
}

code "P2718" {
  title = "Pressure Control Solenoid D Control Circuit/Open"
  leak  = 0.002
}

code "P2719" {
  title = "Pressure Control Solenoid D Control Circuit Range/Performance"
  leak  = 0.002
}

code "P2720" {
  title = "Pressure Control Solenoid D Control Circuit Low"
  leak  = 0.002
}

code "P2721" {
  title = "Pressure Control Solenoid D Control Circuit High"
  leak  = 0.002
}

code "P2727" {
  title = "Pressure Control Solenoid E Control Circuit/Open"
  leak  = 0.002
}

code "P2728" {
  title = "Pressure Control Solenoid E Control Circuit Range/Performance"
  leak  = 0.002
}

code "P2729" {
  title = "Pressure Control Solenoid E Control Circuit Low"
  leak  = 0.002
}

code "P2730" {
  title = "Pressure Control Solenoid E Control Circuit High"
  leak  = 0.002
}

code "P2736" {
  title = "Pressure Control Solenoid F Control Circuit/Open"
  leak  = 0.002
}

code "P2737" {
  title = "Pressure Control Solenoid F Control Circuit Range/Performance"
  leak  = 0.002
}

code "P2738" {
  title = "Pressure Control Solenoid F Control Circuit Low"
  leak  = 0.002
}

code "P2739" {
  title = "Pressure Control Solenoid F Control Circuit High"
  leak  = 0.002
}

code "P2745" {
  title = "Intermediate Shaft Speed Sensor B Circuit"
  leak  = 0.002
}

code "P2746" {
  title = "Intermediate Shaft Speed Sensor B Circuit Range/Performance"
  leak  = 0.002
}

code "P2747" {
  title = "Intermediate Shaft Speed Sensor B Circuit No Signal"
  leak  = 0.002
}

code "P2748" {
  title = "Intermediate Shaft Speed Sensor B Circuit Intermittent"
  leak  = 0.002
}

code "P2749" {
  title = "Intermediate Shaft Speed Sensor C Circuit"
  leak  = 0.002
}

code "P2750" {
  title = "Intermediate Shaft Speed Sensor C Circuit Range/Performance"
  leak  = 0.002
}

code "P2751" {
  title = "Intermediate Shaft Speed Sensor C Circuit No Signal"
  leak  = 0.002
}

code "P2752" {
  title = "Intermediate Shaft Speed Sensor C Circuit Intermittent"
  leak  = 0.002
}

code "P2753" {
  title = "Transmission Fluid Cooler Control Circuit/Open"
  leak  = 0.002
}

code "P2754" {
  title = "Transmission Fluid Cooler Control Circuit Low"
  leak  = 0.002
}

code "P2755" {
  title = "Transmission Fluid Cooler Control Circuit High"
  leak  = 0.002
}

code "P2771" {
  title = "Four Wheel Drive Low Switch Circuit"
  leak  = 0.002
}

code "P2772" {
  title = "Four Wheel Drive Low Switch Circuit Range/Performance"
  leak  = 0.002
}

code "P2773" {
  title = "Four Wheel Drive Low Switch Circuit Low"
  leak  = 0.002
}

code "P2774" {
  title = "Four Wheel Drive Low Switch Circuit High"
  leak  = 0.002
}

code "P2775" {
  title = "Upshift Switch Circuit Range/Performance"
  leak  = 0.002
}

code "P2776" {
  title = "Upshift Switch Circuit Low"
  leak  = 0.002
}

code "P2777" {
  title = "Upshift Switch Circuit High"
  leak  = 0.002
}

code "P2778" {
  title = "Upshift Switch Circuit Intermittent/Erratic"
  leak  = 0.002
}

code "P2779" {
  title = "Downshift Switch Circuit Range/Performance"
  leak  = 0.002
}

code "P2780" {
  title = "Downshift Switch Circuit Low"
  leak  = 0.002
}

code "P2781" {
  title = "Downshift Switch Circuit High"
  leak  = 0.002
}

code "P2782" {
  title = "Downshift Switch Circuit Intermittent/Erratic"
  leak  = 0.002
}

code "P2784" {
  title = "Input/Turbine Speed Sensor A/B Correlation"
  leak  = 0.002
}

code "P2785" {
  title = "Clutch Actuator Temperature Too High"
  leak  = 0.002
}

code "P2786" {
  title = "Gear Shift Actuator Temperature Too High"
  leak  = 0.002
}

code "P2788" {
  title = "Auto Shift Manual Adaptive Learning at Limit"
  leak  = 0.002
}

code "P2790" {
  title = "Gate Select Direction Circuit"
  leak  = 0.002
}

code "P2791" {
  title = "Gate Select Direction Circuit Low"
  leak  = 0.002
}

code "P2792" {
  title = "Gate Select Direction Circuit High"
  leak  = 0.002
}

code "P2793" {
  title = "Gear Shift Direction Circuit"
  leak  = 0.002
}

code "P2794" {
  title = "Gear Shift Direction Circuit Low"
  leak  = 0.002
}

code "P2795" {
  title = "Gear Shift Direction Circuit High"
  leak  = 0.002
}
