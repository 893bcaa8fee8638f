"""Sheet, spread, roll, cut, tin and layout: geometry and its drawing to scale."""
