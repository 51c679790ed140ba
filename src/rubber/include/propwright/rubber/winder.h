/// Counting on a winder: a crank is stopped at whole turns.
#pragma once

namespace propwright::rubber {

/// Whole turns of the crank in `motor_turns` >= 0 of the motor, with `ratio` > 0 turns of the motor
/// for one of the crank (1: the motor itself is counted). Always rounded down, so that turns that
/// are safe, or that a roof allows, are never passed; a millionth of a turn is rounding error.
double crank_turns(double motor_turns, double ratio);

}  // namespace propwright::rubber
