"""What foods are to physics: heat capacity, conductivity, density, enthalpy, milk fat, moist air, boiling point."""
