"""The steps of a bake, the state of the dough, and the one kernel that advances time."""
