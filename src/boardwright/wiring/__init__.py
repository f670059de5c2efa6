"""From the rail to the wires: netlist, routes to scale, schedule, order of work."""
