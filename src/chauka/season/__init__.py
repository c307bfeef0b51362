"""What is in the market, when: the calendar of a region, the stalls of a day, the market days of a house."""

from chauka.season.calendar import SeasonState, Standing, months_of, regions, standing, state
from chauka.season.market import market_days, offers_on

__all__ = ["SeasonState", "Standing", "market_days", "months_of", "offers_on", "regions", "standing", "state"]
