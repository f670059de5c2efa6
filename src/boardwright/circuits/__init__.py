"""From loads to circuits that can be protected: demand, cable, fault, RCD."""
