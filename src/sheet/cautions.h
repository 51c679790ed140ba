/// What can hurt, said before the act, in one place. Every caution gives way to the product's
/// safety sheet, the hall's rules and local codes.
#pragma once

namespace propwright::sheet::cautions {

inline constexpr const char* defer =
    "The product\u2019s safety sheet, the hall\u2019s rules and local codes go before this page.";
inline constexpr const char* knife = "Knife: cut away from the hand, on a mat, with a sharp blade.";
inline constexpr const char* heat =
    "Oven and hot iron: low heat, never left alone, well away from cement and solvent; wood chars "
    "from inside in a microwave.";
inline constexpr const char* solvent =
    "Cement, thinner and dope: fresh air, no flame or spark near.";
inline constexpr const char* instant_glue =
    "Instant glue: eye protection, fresh air; it bonds skin at once.";
inline constexpr const char* spray_glue =
    "Spray glue: outdoors or at an extractor, no flame, not to be breathed.";
inline constexpr const char* wound_rubber =
    "A wound motor can break: eye protection on, and no face in line with the motor or with the "
    "wire "
    "of the torque meter.";
inline constexpr const char* wire = "Wire ends fly when cut and find eyes: eye protection on.";
inline constexpr const char* dust = "Sanding: a dust mask; brush the dust off, do not blow.";

}  // namespace propwright::sheet::cautions
