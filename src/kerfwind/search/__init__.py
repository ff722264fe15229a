"""Whatever loops over rooms: builds, nests and checks candidates, and ranks changes."""
