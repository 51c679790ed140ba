/// What can hurt at the bench and on the floor, a line for each kind of work; each gives way to the
/// product's own safety sheet.
#pragma once

namespace propwright::answer::cautions {

inline constexpr const char* cut_and_sand =
    "Knife: cut away from the hand. Sanding: a dust mask; brush the dust off, do not blow. The "
    "glue's safety sheet goes before this page.";
inline constexpr const char* roll =
    "Cement and thinner: fresh air, no flame or spark near, and the product's safety sheet goes "
    "before this page. Pull the tube off the rod away from yourself.";
inline constexpr const char* wire =
    "Wire ends fly when cut and find eyes: eye protection on. Solvents: fresh air, no flame; the "
    "product's safety sheet goes before this page.";
inline constexpr const char* wind =
    "A wound motor can break: eye protection on, and no face in line with the motor or with the "
    "wire "
    "of the torque meter. The hall's rules go before this page.";

}  // namespace propwright::answer::cautions
