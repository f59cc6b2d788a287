"""The cautions that every lesson, rating, job sheet and certificate shows."""

__all__ = ["CAUTIONS", "CERTIFICATE_CAUTION", "INVENTED", "INVENTED_GAUGE", "INVENTED_PAGE", "INVENTED_PLAN", "PRACTICE", "SCENES", "WORK_CAUTIONS"]

CAUTIONS = (
    "The sleeve and tool maker's chart governs: where it differs from anything here, follow the chart.",
    "Local codes and licensed practice come first: some work may only be designed, made or fitted by licensed people.",
    "Never for lifting anything, for holding people, for aircraft, lifts or vehicles: ask a qualified rigger or engineer.",
    "A certificate of competence is evidence of what a person showed; it is no permission to do any job.",
)

# What a certificate of competence is worth is said where one is given: not above the press, and not to a customer.
WORK_CAUTIONS = tuple(text for text in CAUTIONS if not text.startswith("A certificate"))

CERTIFICATE_CAUTION = (
    "This certificate says what one person showed on one day. It is evidence and no permission, "
    "and it certifies a person's competence, never a cable."
)

INVENTED = "INVENTED: shop, people and figures of this sheet are made up for teaching."
INVENTED_PAGE = "INVENTED: the shop, its people and its chart on this page are made up for teaching."
INVENTED_PLAN = ("INVENTED: the blueprint of this paper, its cut and the judges named for it are made up for teaching; "
                 "the shop, its charts, its tools and its factor are not.")
SCENES = ("The scenes in the questions, the people named in them and their figures, design factors too, are made up; "
          "the charts, reels and factors named as this shop's own are not.")
INVENTED_GAUGE = "INVENTED: DO NOT GAUGE REAL WORK WITH THIS"
PRACTICE = "PRACTICE: no maker's chart has been entered, so nothing made from this sheet may leave the bench."
