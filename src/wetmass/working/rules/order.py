"""The order in which the rules are tried."""

from __future__ import annotations

from collections.abc import Callable

from wetmass.working.rules.allowances import Allowances
from wetmass.working.rules.columns import Columns
from wetmass.working.rules.contexts import Contexts
from wetmass.working.rules.conversions import Conversions
from wetmass.working.rules.counts import Counts
from wetmass.working.rules.directions import Directions
from wetmass.working.rules.flight_said import FlightSaid
from wetmass.working.rules.fluids import Fluids
from wetmass.working.rules.grounds import Grounds
from wetmass.working.rules.impulses import Impulses
from wetmass.working.rules.listed import Listed
from wetmass.working.rules.lit import Lit
from wetmass.working.rules.logarithms import Logarithms
from wetmass.working.rules.masses import Masses
from wetmass.working.rules.means import Means
from wetmass.working.rules.measures import Measures
from wetmass.working.rules.moments import Moments
from wetmass.working.rules.percents import Percents
from wetmass.working.rules.places import Places
from wetmass.working.rules.provenance import Provenance
from wetmass.working.rules.rounds import Ends, Rings, Rounds
from wetmass.working.rules.sayings import Sayings
from wetmass.working.rules.scaling import Scaling
from wetmass.working.rules.shapes import Shapes
from wetmass.working.rules.speeds import Speeds
from wetmass.working.rules.surroundings import Surroundings
from wetmass.working.rules.weights import Weights


class Sense(
    Logarithms, Weights, Moments, Fluids, Allowances, Impulses, Grounds, Places, Counts, Masses, Speeds, Listed, Conversions,
    Scaling, Percents, Means, Provenance, Contexts, Surroundings,
    Directions, Shapes, Rounds, Rings, Ends, Measures, Columns, Sayings, FlightSaid, Lit,
):  # fmt: skip
    """All rules, in the groups in which the judgement asks for them."""

    def typed_slips(self) -> bool:
        """Slips that stand in the writing itself, whatever the relation."""
        for part in self.statement.expressions:
            for tree in part.trees[:1]:
                if self._degrees_as_radians(tree):
                    return True
        rules: tuple[Callable[[], bool], ...] = (
            self._common_logarithm, self._other_place, self._sea_level_air, self._straight_densities,
            self._same_as_elsewhere, self._percent_as_number, self._celsius, self._unit_of_page,
            self._allowance_digits, self._other_stage, self._gross_acceleration, self._one_of_many,
            self._turned_gain, self._added_impulses, self._payload_not_in_end, self._burned_in_logarithm, self._miscopied_value,
        )  # fmt: skip
        return self.best is not None and any(self.holds(rule) for rule in rules)

    def by_words(self) -> bool:
        """Whether the words of the line say something else than its numbers, whatever the relation."""
        if self.best is None:  # units that the line leaves out
            part = next(iter(self.statement.expressions), None)
            tree = part.trees[0] if part is not None and part.trees else None
            return tree is not None and self.holds(lambda: self._weight_added_to_the_braking(tree))
        return self.any_of(
            (
                self._one_of_the_list_left_out,
                self._loss_without_the_angle,
                self._turning_off_the_inertial,
                self._help_added,
                self._more_than_are_lit,
                self._twice_in_words_only,
                self._ring_without_its_tanks,
                self._weight_added_to_the_braking,
                self._excess_added,
                self._one_though_all_are_said,
                self._power_without_the_half,
            )
        )

    def by_marks(self) -> bool:
        """Whether a single word of the line or the page says that a number is not the right one."""
        return self.any_of((
            self._between_two_units, self._of_the_other_fluid, self._other_world, self._hoop_for_length, self._across_for_radius,
            self._ullage_turned, self._speeds_halved, self._hours, self._load_times_g,
            self._logarithm_below_one, self._clock, self._safety_turned, self._one_end,
            self._ring_factor, self._round_terms, self._one_of_both_ends, self._between_axes, self._volume_by_mass_ratio,
            self._frustum_by_mean_radius, self._ring_without_its_one, self._other_conversion,
            self._density_out_of_reach, self._ground_air_at_height, self._air_of_the_earth_elsewhere, self._conversion_turned,
            self._unlike_its_column, self._ratio_called_percent, self._impulse_without_g, self._radius_called_across, self._stop_without_weight, self._ratio_of_exchange_turned, self._force_of_the_air_by_the_speed,
        ))  # fmt: skip

    def by_places(self) -> bool:
        """Whether a number of the line belongs elsewhere or to another moment."""
        return self.any_of((
            self._stage_without_what_it_carries, self._usable_of_more_than_is_there, self._kept_taken_off,
            self._falls_later, self._dry_alone_below, self._payload_alone_times_ratio, self._share_of_the_stage_of_the_propellant, self._growth_on_the_larger, self._whole_round_for_the_way, self._burned_share_of_the_empty,
            self._ground_and_vacuum, self._payload_with_structure, self._share_digits, self._sine_for_cosine,
            self._burned_added, self._last_speed_for_all, self._way_at_last_speed,
            self._payload_not_summed, self._spent_stage_summed, self._spent_stage_in_logarithm, self._counted_inside,
            self._one_dropped_of_several, self._payload_above_alone, self._scaled_by_the_wrong_power,
            self._densities_by_mass, self._impulses_of_unlike_engines, self._impulse_of_several, self._speeds_over_equal_ways,
            self._mean_of_the_ends, self._propellant_over_the_rest, self._circles_subtracted, self._other_inverse,
            self._thrust_of_one_in_flow, self._total_by_the_ratio, self._sound_of_the_ground, self._arc_without_its_start,
            self._gauge_taken_off, self._world_of_the_lines, self._one_although_plural, self._plain_ratio_by_name,
            self._room_by_what_it_is_of, self._oxidiser_over_the_ratio, self._share_of_more_than_propellant,
            self._circle_at_the_ground, self._losses_off_what_is_needed, self._percent_of_the_named, self._moon_in_the_impulse,
            self._air_added, self._mean_over_unequal_times, self._seconds_by_sixty, self._residual_added,
            self._mean_without_bracket, self._mean_mass_of_a_long_burn, self._pounds_over_g, self._per_kilogram, self._load_without_g, self._burn_at_constant_mass,
            self._lower_stage_lighter, self._not_all_above, self._escape_by_doubling, self._share_the_wrong_way, self._share_put_on_again,
        ))  # fmt: skip

    def by_sense(self) -> bool:
        """Whether a number is not the one the line speaks of, though arithmetic and relation hold."""
        return self.any_of((
            self._gross_although_net, self._growth_on_propellant, self._share_as_tenths, self._weight_left_out,
            self._lift_off_acceleration, self._residuals_left_out, self._ground_impulse_aloft,
            self._all_engines_though_one_is_out, self._ground_air_aloft, self._impulses_by_count, self._straight_mean, self._felt_less_weight, self._ratio_times_g, self._load_factor_left_out, self._dry_mass_of_one,
            self._turn_not_halved,
            self._own_mass_again, self._above_not_taken_off, self._propellant_in_logarithm, self._impulses_added, self._growth_twice,
            self._sine_of_latitude, self._first_acceleration_kept, self._one_of_its_kind,
            self._units_do_not_agree, self._sign_in_a_budget, self._speeds_added, self._taken_off_added, self._mass_of_another_moment,
        ))  # fmt: skip
