"""What dough does in the oven and after: heat, vapour, crust, colour, loss, doneness, cooling, glaze."""
