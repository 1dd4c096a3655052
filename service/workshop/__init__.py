"""Everything that runs offline: tables and population, the contract, benches, the walk-through, fleet commands.

Nothing here is imported while a request is answered; the command line alone imports it.
"""
