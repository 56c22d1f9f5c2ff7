#pragma once
/// What neighbours hear from a propeller: its tones far away, and the loudest moment as it passes.
///
/// Tones at multiples of blade passage, from the steady thrust and torque along the blade and from
/// the air its thickness pushes aside, in the frequency domain, flying as well as standing still:
/// L. Gutin, NACA TM 1195 (1948), integrated along the radius; with flight speed, thickness and the
/// width of the chord as D. B. Hanson, AIAA J. 18 (1980) 1213, far field. See sound.cpp.
///
/// What is not in it: the engine's exhaust (on a two-stroke often the louder half), broadband
/// (vortex) noise, and the unsteady load of a propeller working in the wake of pilot, cage or wing
/// or in the gusts it draws in standing still, which adds 5 to 15 dB to the higher harmonics
/// (common practice, no source). NACA TN 1354 (1948) found Gutin's theory good for two blades at
/// tip Mach numbers 0.3 to 0.9, for seven only above 0.5: below, vortex noise is louder. So these
/// levels rank propellers and tell differences between them; they are not what a meter will read.

#include "loadline/air/air.hpp"
#include "loadline/rotor/rotor.hpp"

#include <vector>

namespace loadline {

/// Level of a pressure of nothing, dB: takes the place of minus infinity.
inline constexpr double silence = -200.0;

/// Level of a pressure (Pa rms) re 20 uPa, dB; not below `silence`.
double sound_level(double pressure);

/// Weighting A, dB, of a tone of `frequency` Hz. Source: IEC 61672-1, analytic form. Its tables
/// hold for the exact midband frequencies 1000 x 10^(k/10) Hz.
/// Errors: std::invalid_argument unless finite and above 0.
double a_weighting(double frequency);

/// What still air takes from a tone on its way, dB/m. Source: ISO 9613-1:1993, equations (3) to
/// (5), good to 10 % for 0.05 to 5 % water (molar), -20 to 50 degC, below 2 atm.
/// Errors: std::invalid_argument when the frequency is outside 0 .. 1e9 Hz, the temperature or
/// pressure not above 0, or the vapour pressure not within 0 .. pressure.
double air_absorption(double frequency, const Air& air);

/// One annulus of the blades. SI.
struct SoundStation {
    double radius = 0.0;             ///< m
    double width = 0.0;              ///< dr it stands for, m
    double chord = 0.0;              ///< m; 0 is a line without volume
    double thickness = 0.0;          ///< greatest, over chord
    double offset = 0.0;             ///< of the chord's middle behind a radial line (sweep), m
    double thrust_per_radius = 0.0;  ///< all blades together, N/m
    double torque_per_radius = 0.0;  ///< all blades together, N
};

/// A propeller at work in air at rest, flying along its axis. Blades evenly spaced and alike.
struct SoundSource {
    int blades = 2;
    double diameter = 0.0;  ///< m
    double rotation = 0.0;  ///< rad/s
    double airspeed = 0.0;  ///< m/s, below the speed of sound
    std::vector<SoundStation> stations;
};

/// The source a solved rotor is. `result` from Rotor::solve_stations at `point`. The middles of the
/// chords follow the sweep of the blade.
/// Errors: std::invalid_argument when the result has no stations or has not converged.
SoundSource sound_source(const Rotor& rotor, const RotorResult& result,
                         const OperatingPoint& point);

/// One harmonic of blade passage. Pressures are rms, Pa.
struct Tone {
    int harmonic = 1;
    /// As a listener at rest hears it, Hz: harmonic times blades times turns per second over
    /// 1 - M cos(angle), M = airspeed over speed of sound. One flying along hears it without that
    /// divisor, at the same level.
    double frequency = 0.0;
    double loading = 0.0;    ///< by thrust and torque alone
    double thickness = 0.0;  ///< by the blades' volume alone
    double pressure = 0.0;   ///< of both, with their phases
    double level = silence;  ///< of `pressure`, dB re 20 uPa
};

/// Harmonics 1 .. `harmonics` far away in the free field, without absorption.
///
/// `distance` from the propeller and `angle` from the forward axis (rad, 0 .. pi; 0 ahead) are
/// those at the moment the sound left. Loading is loudest somewhat behind the plane of rotation; on
/// the axis there is none. Far field: some diameters and wavelengths away (a wavelength is 4 m at
/// 83 Hz). Linear, so doubtful above a helical tip Mach number of about 0.9.
///
/// Errors: std::invalid_argument naming the value out of range: distance not above the diameter,
/// angle outside 0 .. pi, harmonics outside 1 .. 1000, blades outside 1 .. 100, airspeed not within
/// 0 .. speed of sound, rotation not above 0, no stations, a radius not within 0 .. diameter/2, a
/// width, chord or thickness below 0, anything not finite.
std::vector<Tone> tones(const SoundSource& source, const Air& air, double distance, double angle,
                        int harmonics = 20);

/// Level of all together, dB, and A-weighted as a listener at rest hears them, dB(A).
double total_level(const std::vector<Tone>& tones);
double total_level_a(const std::vector<Tone>& tones);

/// What the ground gives back to the listener.
enum class Listener {
    free_field,    ///< nothing
    above_ground,  ///< 3 dB: at ear height, direct and reflected sound of unlike phase
    on_ground,     ///< 6 dB: a microphone on a hard plane, pressure doubled
};

/// The loudest moment of a passage along a straight line.
struct PassBy {
    double greatest_level_a = silence;  ///< dB(A)
    double greatest_level = silence;    ///< dB; mostly at another moment than the A-weighted one
    double angle = 0.0;                 ///< of emission of the greatest dB(A), from ahead, rad
    double distance = 0.0;              ///< at that emission, m
    double frequency = 0.0;             ///< of blade passage as heard then, Hz
    int harmonics = 0;                  ///< summed then; more were 30 dB below
};

/// Beneath a craft that flies level overhead at `height` m, axis level: spherical spreading,
/// absorption in uniform air, Doppler shift; all emission angles searched.
/// Errors: as tones.
PassBy pass_by(const SoundSource& source, const Air& air, double height,
               Listener listener = Listener::above_ground);

/// Beside a take-off run or climb: the loudest place on a line alongside, `distance` m from the
/// craft's path, which is `height` m higher there. Near the ground, where a grazing reflection may
/// also cancel, less sure than overhead. Errors: as tones; height negative or not finite.
PassBy beside(const SoundSource& source, const Air& air, double distance, double height = 0.0,
              Listener listener = Listener::above_ground);

}  // namespace loadline
