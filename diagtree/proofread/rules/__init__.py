"""The proofreading rules: one fault, one module; the module's docstring is the fault's page."""
