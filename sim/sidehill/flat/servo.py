"""Stiff servos and ties."""

# natural frequency [rad/s] and damping ratio, well inside what a step of 1 ms resolves
SERVO_RATE, SERVO_RATIO = 100.0, 0.7


def servo(inertia: float) -> tuple[float, float]:
    """Stiffness [N m/rad] and damping [N m s/rad] that hold an inertia [kg m^2] stiffly."""
    return inertia * SERVO_RATE**2, 2.0 * SERVO_RATIO * inertia * SERVO_RATE
