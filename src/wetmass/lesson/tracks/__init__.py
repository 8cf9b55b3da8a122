"""Tracks of flights in open formats: GeoJSON, KML, CCSDS OEM and CSV.

Each writer takes `Track`s and gives text; nothing is computed here but the layout of a format.
"""

from wetmass.lesson.tracks.columns import csv
from wetmass.lesson.tracks.ephemeris import oem
from wetmass.lesson.tracks.maps import geojson, kml
from wetmass.lesson.tracks.track import (
    Area,
    Mark,
    Track,
    area_of,
    track_of_flight,
    track_of_home,
    track_of_impact_points,
    tracks_of,
)

__all__ = [
    "Area",
    "Mark",
    "Track",
    "area_of",
    "csv",
    "geojson",
    "kml",
    "oem",
    "track_of_flight",
    "track_of_home",
    "track_of_impact_points",
    "tracks_of",
]
