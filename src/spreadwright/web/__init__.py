"""Pages and JSON over the plan and the store; nothing is computed here."""
