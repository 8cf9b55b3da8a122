"""Many closings or flights: what if, what matters, how sure.

    grid.vary            one number or two put to several values       beside.compare   variants side by side
    worth.worth          what one unit more of each number is worth    shares.shares    whose spread it is
    spread.spread        guesses drawn, every draw closed              flights.flights  drawn, and flown as steered
    destinations, refuelling   where a vehicle reaches, alone and refilled

`crew.Crew` says who works, `store.Store` where results are kept; `point.solved` is one point, `point.settled` an
answer searched on until it is the best.
"""
