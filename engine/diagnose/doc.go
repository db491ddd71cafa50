// Package diagnose answers a case from the model of its unit: suspects ranked
// by their exact probability, what each report says for or against them, joint
// explanations, root causes, and what outside the transmission it could be.
package diagnose
