"""The switch between °C and °F, g and oz; kept in a cookie of this browser."""

from oventide.web.ask import Ask, Redirect


def handle(ask: Ask) -> Redirect:
    """Set what was switched and go back to where the baker was."""
    cookies = {}
    if ask.form.get("degree") in ("c", "f"):
        cookies["oventide_degree"] = ask.form["degree"]
    if ask.form.get("mass") in ("g", "oz"):
        cookies["oventide_mass"] = ask.form["mass"]
    back = ask.form.get("back", "/")
    return Redirect(back if back.startswith("/") and not back.startswith(("//", "/\\")) else "/", cookies)
