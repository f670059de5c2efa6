"""The surge study on paper: charts, choices and sentences."""
